"""How long does the workshop take for one unit of an operation, and what does the finish make of it?"""

from __future__ import annotations

from django.db import models

from jobs.enums import Grade
from jobs.fields import HoursField, QuantityField


class OperationRate(models.Model):
    """The workshop's own hours for one unit of an operation; where there is none, the starting rate holds."""

    operation = models.CharField(max_length=20, unique=True)
    hours_each = HoursField("hours for one unit")

    class Meta:
        ordering = ["operation"]
        constraints = [
            models.CheckConstraint(condition=models.Q(hours_each__gte=0), name="rate_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.operation} {self.hours_each}"


class GradeFactor(models.Model):
    """What share of the hours a grade of finish takes; a seen surface takes them all."""

    grade = models.CharField(max_length=10, choices=Grade, unique=True)
    factor = QuantityField("share of the hours")

    class Meta:
        ordering = ["grade"]
        constraints = [
            models.CheckConstraint(condition=models.Q(factor__gt=0), name="factor_above_nothing"),
        ]

    def __str__(self) -> str:
        return f"{self.grade} {self.factor}"
