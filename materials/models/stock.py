"""What lies in the workshop, where, from which job, and what came and went?"""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.db import models
from django.urls import reverse

from jobs.fields import MoneyField, QuantityField
from jobs.models import CostEntry, Job, Person, Phase
from materials.enums import StockSource, StockStep
from materials.models.catalogue import Material


class StockItem(models.Model):
    """So many of one material and size that lie together. `value` is that of one, nothing for reclaimed wood.

    `quantity` is what is left; it follows from the moves and is kept beside them so that lists stay quick.
    """

    label = models.CharField(max_length=20, unique=True)
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="stock")
    length_mm10 = models.PositiveIntegerField("length", null=True, blank=True)
    width_mm10 = models.PositiveIntegerField("width", null=True, blank=True)
    quantity = QuantityField()
    value = MoneyField("value of one", default=Decimal(0))
    place = models.CharField("where it lies", max_length=80, blank=True)
    source = models.CharField("how it came", max_length=9, choices=StockSource, default=StockSource.HAND)
    source_ref = models.CharField("what it came from", max_length=80, blank=True)
    origin_job = models.ForeignKey(
        Job, on_delete=models.SET_NULL, null=True, blank=True, related_name="leftovers"
    )
    reserved_for = models.ForeignKey(
        Job, on_delete=models.SET_NULL, null=True, blank=True, related_name="reserved_stock"
    )
    notes = models.CharField(max_length=240, blank=True)
    added_at = models.DateTimeField(auto_now_add=True)
    used_up_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["material", "-length_mm10", "-width_mm10", "pk"]
        indexes = [models.Index(fields=["material", "used_up_at"], name="stock_by_material")]
        constraints = [
            models.CheckConstraint(condition=models.Q(quantity__gte=0), name="stock_not_below_nothing"),
            models.CheckConstraint(condition=models.Q(value__gte=0), name="stock_value_not_negative"),
            models.UniqueConstraint(
                fields=["source_ref"], condition=~models.Q(source_ref=""), name="a_leftover_comes_once"
            ),
        ]

    def __str__(self) -> str:
        return self.label

    def get_absolute_url(self) -> str:
        return reverse("materials:stock-item", args=[self.pk])


class StockMove(models.Model):
    """One line of the stock ledger: what came (plus) or went (minus). It is only undone by another."""

    key = models.UUIDField(default=uuid.uuid4, unique=True)
    item = models.ForeignKey(StockItem, on_delete=models.PROTECT, related_name="moves")
    step = models.CharField(max_length=8, choices=StockStep)
    quantity = QuantityField()
    phase = models.ForeignKey(
        Phase, on_delete=models.PROTECT, null=True, blank=True, related_name="stock_moves"
    )
    cost_entry = models.OneToOneField(
        CostEntry, on_delete=models.PROTECT, null=True, blank=True, related_name="stock_move"
    )
    undoes = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="undone_by"
    )
    reason = models.CharField(max_length=160, blank=True)
    at = models.DateTimeField(auto_now_add=True)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"{self.get_step_display()} {self.quantity}"
