"""What was spent besides hours, and where is the receipt?"""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.db import models

from jobs.enums import CostKind, CostSource
from jobs.fields import MoneyField
from jobs.models.jobs import Change, Phase
from jobs.models.people import Person


class Photo(models.Model):
    """A picture kept in the photo folder under its own hash, re-encoded, without the place it was taken."""

    sha256 = models.CharField(max_length=64, unique=True)
    content_type = models.CharField(max_length=40, default="image/jpeg")
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    bytes_long = models.PositiveIntegerField()
    added_at = models.DateTimeField(auto_now_add=True)
    added_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    def __str__(self) -> str:
        return self.sha256[:12]


class CostEntry(models.Model):
    """One line of the cost ledger. It is never changed; a mistake is reversed by its opposite."""

    key = models.UUIDField(default=uuid.uuid4)
    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="cost_entries")
    change = models.ForeignKey(
        Change, on_delete=models.PROTECT, null=True, blank=True, related_name="cost_entries"
    )
    on_date = models.DateField()
    kind = models.CharField(max_length=12, choices=CostKind, default=CostKind.MATERIAL)
    description = models.CharField(max_length=200, blank=True)
    supplier = models.CharField(max_length=120, blank=True)
    net = MoneyField()
    tax = MoneyField(default=Decimal(0))
    photo = models.ForeignKey(
        Photo, on_delete=models.PROTECT, null=True, blank=True, related_name="cost_entries"
    )
    source = models.CharField(max_length=8, choices=CostSource, default=CostSource.HAND)
    source_ref = models.CharField(max_length=60, blank=True)
    reverses = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by"
    )
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="cost_entries")
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-on_date", "-pk"]
        verbose_name_plural = "cost entries"
        indexes = [models.Index(fields=["phase", "on_date"], name="cost_by_phase")]
        constraints = [models.UniqueConstraint(fields=["person", "key"], name="a_cost_once")]

    def __str__(self) -> str:
        return self.description or self.get_kind_display()
