"""How is the material of a job cut, what does that cost, and which phase bears how much of it?"""

from __future__ import annotations

from decimal import Decimal

from django.db import models
from django.urls import reverse

from jobs.fields import MoneyField
from jobs.models import Job, Person, Phase
from materials.enums import PlanKind, PlanState
from materials.models.catalogue import Material, StockSize
from materials.models.stock import StockMove


class CuttingPlan(models.Model):
    """The plan for one material of one job over all its phases: the best found so far.

    `problem`, `marks` and `stock` are what was asked, as it stood then: a plan whose question has changed
    since is stale. `cost` is what the stock costs, what is already sawn included; no plan can cost less
    than `lower_bound`.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="cutting_plans")
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=5, choices=PlanKind)

    kerf_mm10 = models.PositiveIntegerField("kerf", default=32)
    trim_mm10 = models.PositiveIntegerField("trim", default=0)
    least_offcut_mm10 = models.PositiveIntegerField("shortest offcut worth keeping", default=3000)
    least_offcut_width_mm10 = models.PositiveIntegerField("narrowest offcut worth keeping", default=0)
    seconds_granted = models.PositiveSmallIntegerField("seconds to search", default=10)

    problem = models.JSONField(default=dict)
    marks = models.JSONField(default=list)
    stock = models.JSONField(default=list)
    money_places = models.PositiveSmallIntegerField("decimal places of the problem's costs", default=2)
    result = models.JSONField(null=True)
    faults = models.JSONField(default=list)
    compared = models.JSONField("what simpler ways would cost", null=True)
    cost = MoneyField(null=True)
    lower_bound = MoneyField(null=True)
    proven = models.BooleanField(default=False)
    how = models.CharField(max_length=80, blank=True)
    milliseconds = models.PositiveIntegerField(default=0)

    state = models.CharField(max_length=8, choices=PlanState, default=PlanState.RUNNING)
    run = models.UUIDField(null=True)
    progress = models.CharField(max_length=120, blank=True)
    stop_asked = models.BooleanField(default=False)
    started_at = models.DateTimeField(null=True)
    heard_at = models.DateTimeField("last heard of the search", null=True)
    better_count = models.PositiveIntegerField("how often a better plan was found", default=0)
    made_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["job", "material__kind", "material__name"]
        constraints = [
            models.UniqueConstraint(fields=["job", "material"], name="one_plan_a_job_and_material"),
        ]

    def __str__(self) -> str:
        return f"Cutting plan {self.pk}"

    def get_absolute_url(self) -> str:
        return reverse("materials:plan", args=[self.pk])


class PlanShare(models.Model):
    """What one phase bears of a plan's cost. The shares of a plan add up to its cost to the penny."""

    plan = models.ForeignKey(CuttingPlan, on_delete=models.CASCADE, related_name="shares")
    phase = models.ForeignKey(Phase, on_delete=models.CASCADE, related_name="plan_shares")
    cost = MoneyField(default=Decimal(0))

    class Meta:
        ordering = ["plan", "phase__position", "phase"]
        constraints = [models.UniqueConstraint(fields=["plan", "phase"], name="one_share_a_phase")]

    def __str__(self) -> str:
        return f"{self.cost} of plan {self.plan_id}"


class StandingManager(models.Manager["SawnStock"]):
    """What is cut, without what was said to be cut and was not."""

    def get_queryset(self) -> models.QuerySet[SawnStock]:
        return super().get_queryset().filter(undone_at=None)


class SawnStock(models.Model):
    """A bar or a sheet that has been cut. It stays as it is, whatever is planned after it.

    `parts` and `left` hold what came off it; `price` is what it cost, for an offcut its value in stock.
    """

    plan = models.ForeignKey(CuttingPlan, on_delete=models.CASCADE, related_name="sawn")
    size = models.ForeignKey(StockSize, on_delete=models.SET_NULL, null=True, related_name="+")
    words = models.CharField(max_length=120)
    length_mm10 = models.PositiveIntegerField()
    width_mm10 = models.PositiveIntegerField(default=0)
    price = MoneyField(default=Decimal(0))
    taken = models.ForeignKey(
        StockMove, on_delete=models.PROTECT, null=True, related_name="+", verbose_name="out of stock by"
    )
    parts = models.JSONField(default=list)
    left = models.JSONField(default=list)
    cut_at = models.DateTimeField(auto_now_add=True)
    cut_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    undone_at = models.DateTimeField(null=True)

    everything = models.Manager()
    objects = StandingManager()

    class Meta:
        default_manager_name = "objects"
        ordering = ["plan", "pk"]
        verbose_name_plural = "sawn stock"

    def __str__(self) -> str:
        return self.words
