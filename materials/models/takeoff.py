"""What does a phase take? Inputs as they were measured, the result as it was computed."""

from __future__ import annotations

from django.db import models
from django.urls import reverse

from jobs.models import Phase
from materials.models.catalogue import Material


class TakeoffItem(models.Model):
    """One thing taken off for a phase. The result follows from the inputs and is never edited by hand."""

    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="takeoff_items")
    kind = models.CharField(max_length=20)
    title = models.CharField(max_length=120)
    material = models.ForeignKey(Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    position = models.PositiveSmallIntegerField(default=0)
    inputs = models.JSONField(default=dict)
    result = models.JSONField(default=dict)
    rule_version = models.CharField(max_length=20, blank=True)
    computed_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["phase", "position", "pk"]

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("materials:takeoff-item", args=[self.pk])
