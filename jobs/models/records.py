"""Which number comes next, which mail is to go out, and who changed what?"""

from __future__ import annotations

from django.db import models

from jobs.models.jobs import Job
from jobs.models.people import Person


class NumberSeries(models.Model):
    """The last number given out; locked while the next is taken, so none is skipped or given twice."""

    name = models.CharField(max_length=40, unique=True)
    last = models.PositiveIntegerField(default=0)

    class Meta:
        verbose_name_plural = "number series"

    def __str__(self) -> str:
        return f"{self.name} {self.last}"


class Outbox(models.Model):
    """A letter written in the same transaction as what it tells of, and sent afterwards.

    `key` names what it is about, so that the same news is never queued twice.
    """

    key = models.CharField(max_length=120, unique=True)
    job = models.ForeignKey(Job, on_delete=models.SET_NULL, null=True, blank=True, related_name="letters")
    to = models.EmailField()
    subject = models.CharField(max_length=200)
    text = models.TextField()
    html = models.TextField(blank=True)
    queued_at = models.DateTimeField(auto_now_add=True)
    try_after = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    sent_at = models.DateTimeField(null=True, blank=True)
    last_error = models.TextField(blank=True)

    class Meta:
        ordering = ["-queued_at", "-pk"]
        verbose_name_plural = "outbox"

    def __str__(self) -> str:
        return f"{self.subject} to {self.to}"


class OutboxAttachment(models.Model):
    """A file that goes with a letter."""

    letter = models.ForeignKey(Outbox, on_delete=models.CASCADE, related_name="attachments")
    name = models.CharField(max_length=120)
    content_type = models.CharField(max_length=60)
    content = models.BinaryField()

    def __str__(self) -> str:
        return self.name


class HistoryEntry(models.Model):
    """Who changed which record when, with the fields before and after."""

    at = models.DateTimeField(auto_now_add=True)
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    job = models.ForeignKey(Job, on_delete=models.CASCADE, null=True, blank=True, related_name="history")
    record = models.CharField(max_length=40)
    record_id = models.BigIntegerField()
    action = models.CharField(max_length=40)
    changes = models.JSONField(default=dict)

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name_plural = "history"
        indexes = [models.Index(fields=["record", "record_id"], name="history_by_record")]

    def __str__(self) -> str:
        return f"{self.action} {self.record} {self.record_id}"
