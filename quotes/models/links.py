"""By which secret link may a client read a quote, and what happened on it?"""

from __future__ import annotations

from django.db import models

from jobs.models import Person
from quotes.enums import LinkStep
from quotes.models.quotes import Quote


class ClientLink(models.Model):
    """A secret link to one quote and its later revisions. Only the hash of its token is kept."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="links")
    token_hash = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    expires_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"Link to {self.quote}"


class LinkEvent(models.Model):
    """One step on a quote's link: who did what, when, and from where. Added to, never changed."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="events")
    link = models.ForeignKey(
        ClientLink, on_delete=models.PROTECT, null=True, blank=True, related_name="events"
    )
    step = models.CharField(max_length=10, choices=LinkStep)
    at = models.DateTimeField(auto_now_add=True)
    address = models.CharField(max_length=60, blank=True)
    browser = models.CharField(max_length=300, blank=True)
    detail = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.get_step_display()}, {self.quote}"


class Knock(models.Model):
    """How often one network address came to the door in one minute."""

    address = models.CharField(max_length=60)
    minute = models.DateTimeField()
    count = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["address", "minute"], name="one_count_a_minute")]

    def __str__(self) -> str:
        return f"{self.count} from {self.address}"
