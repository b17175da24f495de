"""Which papers have left the workshop? Kept as bytes with their hash, never drawn again."""

from __future__ import annotations

from django.db import models

from jobs.models import Job, Person
from quotes.enums import DocumentKind


class IssuedDocument(models.Model):
    """A paper as it was issued. Nothing in it changes: a correction is another document."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="documents")
    kind = models.CharField(max_length=12, choices=DocumentKind)
    name = models.CharField("file name", max_length=120)
    content_type = models.CharField(max_length=40, default="application/pdf")
    content = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    issued_at = models.DateTimeField(auto_now_add=True)
    issued_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["-issued_at", "-pk"]

    def __str__(self) -> str:
        return self.name
