"""What is being made, in which phases, and which changes has the client asked for?"""

from __future__ import annotations

from decimal import Decimal

from django.db import models
from django.urls import reverse

from jobs.enums import ChangeState, Grade, JobState
from jobs.fields import HoursField, MassField, PercentField
from jobs.models.clients import Client
from jobs.models.people import Person


class Job(models.Model):
    """One piece of work for one client, from first measurement to last payment."""

    number = models.CharField(max_length=20, unique=True)
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="jobs")
    title = models.CharField(max_length=160)
    fitted_out = models.CharField("what is fitted out", max_length=160, blank=True)
    site = models.TextField("where the work is done", blank=True)
    state = models.CharField(max_length=12, choices=JobState, default=JobState.ENQUIRY)
    starts_on = models.DateField(null=True, blank=True)
    ends_on = models.DateField(null=True, blank=True)
    gross_mass_limit_kg = MassField("gross mass limit, kg", null=True, blank=True)
    empty_mass_kg = MassField("empty mass, kg", null=True, blank=True)
    notes = models.TextField(blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    archived_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["-number"]
        indexes = [models.Index(fields=["state", "archived_at", "number"], name="job_by_state")]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"

    def get_absolute_url(self) -> str:
        return reverse("jobs:detail", args=[self.pk])

    @property
    def is_closed(self) -> bool:
        """Nothing more is worked or agreed on it, so it ends at what was spent and is on order."""
        return self.state == JobState.CLOSED


class Phase(models.Model):
    """A stretch of a job that is planned, quoted and followed by itself."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="phases")
    position = models.PositiveSmallIntegerField(default=0)
    title = models.CharField(max_length=120)
    grade = models.CharField("finish grade", max_length=10, choices=Grade, default=Grade.SEEN)
    planned_start = models.DateField(null=True, blank=True)
    planned_days = models.PositiveSmallIntegerField(default=0)
    percent_done = PercentField("done, %", default=Decimal(0))
    percent_done_at = models.DateTimeField(null=True, blank=True)
    hours_left = HoursField("hours still to go", null=True, blank=True)
    cautions = models.JSONField(default=list, blank=True)
    notes = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["job", "position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(percent_done__gte=0) & models.Q(percent_done__lte=100),
                name="done_between_0_and_100",
            ),
            models.CheckConstraint(
                condition=models.Q(hours_left__isnull=True) | models.Q(hours_left__gte=0),
                name="hours_left_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("jobs:phase", args=[self.pk])


class DoneMark(models.Model):
    """The maker's word on one day: how far a phase is. Added to, never changed; a day's last word counts."""

    phase = models.ForeignKey(Phase, on_delete=models.CASCADE, related_name="done_marks")
    on_date = models.DateField()
    percent = PercentField("done, %")
    hours_left = HoursField("hours still to go", null=True, blank=True)
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    marked_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["on_date", "pk"]
        indexes = [models.Index(fields=["phase", "on_date"], name="done_by_phase")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(percent__gte=0) & models.Q(percent__lte=100), name="marked_0_to_100"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.phase} {self.percent} % on {self.on_date}"


class PhaseList(models.Model):
    """Phases the workshop starts jobs of one kind from."""

    name = models.CharField(max_length=80, unique=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class PhaseListItem(models.Model):
    """One phase of a list."""

    phase_list = models.ForeignKey(PhaseList, on_delete=models.CASCADE, related_name="items")
    position = models.PositiveSmallIntegerField(default=0)
    title = models.CharField(max_length=120)
    grade = models.CharField(max_length=10, choices=Grade, default=Grade.SEEN)
    planned_days = models.PositiveSmallIntegerField(default=0)
    cautions = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["phase_list", "position", "pk"]

    def __str__(self) -> str:
        return self.title


class Change(models.Model):
    """The job's register of changes: what was asked, and is there a yes? The pricing stands in quotes."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="changes")
    number = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=160)
    reason = models.TextField(blank=True)
    state = models.CharField(max_length=10, choices=ChangeState, default=ChangeState.DRAFT)
    agreed_at = models.DateTimeField(null=True, blank=True)
    raised_at = models.DateTimeField(auto_now_add=True)
    raised_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["job", "number"]
        constraints = [models.UniqueConstraint(fields=["job", "number"], name="one_change_a_number")]

    def __str__(self) -> str:
        return f"Change {self.number}, {self.title}"

    @property
    def is_agreed(self) -> bool:
        return self.state == ChangeState.AGREED
