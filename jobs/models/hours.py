"""Who worked how long on what?"""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.db import models

from jobs.fields import MoneyField
from jobs.models.jobs import Change, Phase
from jobs.models.people import Person


class TimeEntry(models.Model):
    """A stretch of work. `seconds` is empty while its timer runs.

    The key is made on the phone, so that an entry sent twice over a bad signal is the same entry.
    """

    key = models.UUIDField(default=uuid.uuid4)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="time_entries")
    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="time_entries")
    change = models.ForeignKey(
        Change, on_delete=models.PROTECT, null=True, blank=True, related_name="time_entries"
    )
    on_date = models.DateField()
    started_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    seconds = models.PositiveIntegerField(null=True, blank=True)
    cost_rate = MoneyField("cost of an hour on that day", default=Decimal(0))
    note = models.CharField(max_length=240, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    corrects = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )
    reason = models.CharField("why it was corrected", max_length=240, blank=True)
    void = models.BooleanField("replaced by a correction", default=False)
    approved_at = models.DateTimeField(null=True, blank=True)
    approved_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-on_date", "-pk"]
        verbose_name_plural = "time entries"
        indexes = [
            models.Index(fields=["person", "on_date"], name="time_by_person"),
            models.Index(fields=["phase", "on_date"], name="time_by_phase"),
            models.Index(fields=["on_date", "person", "void", "seconds"], name="time_by_day"),
            models.Index(fields=["phase", "void", "cost_rate", "seconds"], name="time_summed_by_phase"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["person", "key"], name="an_entry_once"),
            models.UniqueConstraint(
                fields=["person"], condition=models.Q(seconds__isnull=True), name="one_running_timer_a_person"
            ),
            models.CheckConstraint(
                condition=models.Q(seconds__isnull=False) | models.Q(started_at__isnull=False),
                name="a_running_timer_has_a_start",
            ),
            models.CheckConstraint(condition=models.Q(cost_rate__gte=0), name="time_cost_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.person} on {self.on_date}"

    @property
    def is_running(self) -> bool:
        return self.seconds is None

    @property
    def hours(self) -> Decimal:
        """Hours worked; nothing while the timer runs."""
        return Decimal(self.seconds or 0) / 3600
