"""What did the client say: yes, no, or a question?"""

from __future__ import annotations

from django.db import models

from jobs.models import Person
from quotes.enums import Answer
from quotes.models.documents import IssuedDocument
from quotes.models.links import ClientLink
from quotes.models.quotes import Quote


class Decision(models.Model):
    """A client's yes or no with its evidence, kept whole: who, when, from where, and to which document."""

    quote = models.OneToOneField(Quote, on_delete=models.PROTECT, related_name="decision")
    link = models.ForeignKey(ClientLink, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    answer = models.CharField(max_length=8, choices=Answer)
    name = models.CharField("name as typed", max_length=120)
    reason = models.TextField(blank=True)
    at = models.DateTimeField()
    address = models.CharField(max_length=60, blank=True)
    browser = models.CharField(max_length=300, blank=True)
    document_sha256 = models.CharField(max_length=64)
    options = models.JSONField(default=list)
    totals = models.JSONField(default=dict)
    recorded_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    def __str__(self) -> str:
        return f"{self.get_answer_display()} by {self.name}"


class Evidence(models.Model):
    """The sheet that proves an answer."""

    decision = models.OneToOneField(Decision, on_delete=models.PROTECT, related_name="evidence")
    document = models.OneToOneField(IssuedDocument, on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"Evidence of {self.decision}"


class Message(models.Model):
    """A question on a quote or the answer to it; the thread stays with the quote's number."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="messages")
    from_client = models.BooleanField()
    author = models.CharField(max_length=120)
    text = models.TextField()
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return self.text[:60]
