"""What was agreed, and what is ordered but not yet received? Both are added to, never changed."""

from __future__ import annotations

from decimal import Decimal

from django.db import models

from jobs.enums import BudgetSource
from jobs.fields import HoursField, MassField, MoneyField
from jobs.models.jobs import Change, Phase
from jobs.models.people import Person


class BudgetEntry(models.Model):
    """What an accepted quote or an agreed change adds to a phase. The revised budget is the sum.

    `price` is without tax, after discount, so that the phases add up to the contract sum.
    """

    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="budget_entries")
    source = models.CharField(max_length=8, choices=BudgetSource)
    source_ref = models.CharField(max_length=60)
    change = models.ForeignKey(
        Change, on_delete=models.PROTECT, null=True, blank=True, related_name="budget_entries"
    )
    hours = HoursField(default=Decimal(0))
    labour_cost = MoneyField(default=Decimal(0))
    material_cost = MoneyField(default=Decimal(0))
    other_cost = MoneyField(default=Decimal(0))
    price = MoneyField(default=Decimal(0))
    mass_kg = MassField(default=Decimal(0))
    days = models.SmallIntegerField(default=0)
    entered_at = models.DateTimeField(auto_now_add=True)
    entered_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["entered_at", "pk"]
        verbose_name_plural = "budget entries"
        constraints = [
            models.UniqueConstraint(fields=["phase", "source", "source_ref"], name="a_source_once_a_phase"),
        ]

    def __str__(self) -> str:
        return f"{self.source_ref} for {self.phase}"


class CommitmentEntry(models.Model):
    """What is ordered for a phase: plus when ordered, minus when received or cancelled."""

    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="commitments")
    on_date = models.DateField()
    order_ref = models.CharField(max_length=60)
    supplier = models.CharField(max_length=120, blank=True)
    net = MoneyField()
    entered_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["on_date", "pk"]
        verbose_name_plural = "commitment entries"

    def __str__(self) -> str:
        return f"{self.order_ref} for {self.phase}"
