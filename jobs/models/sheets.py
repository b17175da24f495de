"""Which weeks of whose hours are closed, and what did a phone already send?"""

from __future__ import annotations

import uuid

from django.db import models

from jobs.models.costs import Photo
from jobs.models.jobs import Phase
from jobs.models.people import Person


class LockedWeek(models.Model):
    """A week of a person whose hours are paid or billed: nothing in it is added, corrected or voided."""

    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="locked_weeks")
    monday = models.DateField()
    locked_at = models.DateTimeField(auto_now_add=True)
    locked_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-monday", "person"]
        constraints = [
            models.UniqueConstraint(fields=["person", "monday"], name="a_week_locked_once"),
            models.CheckConstraint(condition=models.Q(monday__week_day=2), name="a_week_starts_on_monday"),
        ]

    def __str__(self) -> str:
        return f"{self.person}, week of {self.monday}"


class Note(models.Model):
    """Words or a picture from the bench, for whoever opens the job at the desk."""

    key = models.UUIDField(default=uuid.uuid4)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="notes")
    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="bench_notes")
    text = models.TextField(blank=True)
    photo = models.ForeignKey(
        Photo, on_delete=models.PROTECT, null=True, blank=True, related_name="bench_notes"
    )
    written_at = models.DateTimeField()
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-written_at", "-pk"]
        indexes = [models.Index(fields=["phase", "written_at"], name="note_by_phase")]
        constraints = [
            models.UniqueConstraint(fields=["person", "key"], name="a_note_once"),
            models.CheckConstraint(
                condition=~models.Q(text="") | models.Q(photo__isnull=False), name="a_note_says_something"
            ),
        ]

    def __str__(self) -> str:
        return self.text[:60] or "a picture"


class PhoneMessage(models.Model):
    """What a phone sent, and what it was told: sent again, it is told the same and nothing is done twice."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    key = models.UUIDField()
    kind = models.CharField(max_length=8)
    fingerprint = models.CharField(max_length=64)
    answer = models.JSONField()
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "key"], name="a_message_once")]

    def __str__(self) -> str:
        return f"{self.kind} {self.key}"
