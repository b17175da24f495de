"""What does a job's vehicle stand on, and where on it does the mass of each phase sit?"""

from __future__ import annotations

from django.db import models

from jobs.fields import MassField
from jobs.models import Job


class Supports(models.Model):
    """Two axles, or hitch and axle: how far apart, what each carries empty and what it may carry.

    `ahead_mm10` says by phase how far the middle of its mass sits ahead of the rear support; behind it is
    below nothing.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="supports")
    apart_mm10 = models.PositiveIntegerField("from rear to front support")
    front_empty_kg = MassField("front support empty, kg", null=True, blank=True)
    front_limit_kg = MassField("front support at most, kg", null=True, blank=True)
    rear_empty_kg = MassField("rear support empty, kg", null=True, blank=True)
    rear_limit_kg = MassField("rear support at most, kg", null=True, blank=True)
    ahead_mm10 = models.JSONField(default=dict, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name_plural = "supports"
        constraints = [
            models.CheckConstraint(condition=models.Q(apart_mm10__gt=0), name="supports_are_apart"),
        ]

    def __str__(self) -> str:
        return f"Supports of job {self.job_id}"
