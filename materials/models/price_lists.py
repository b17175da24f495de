"""Which price lists were brought in, how were they read, and what came of them?"""

from __future__ import annotations

from django.db import models
from django.urls import reverse

from jobs.models import Person


class PriceList(models.Model):
    """A supplier's list between upload and writing. Once written the file goes and the outcome stays."""

    name = models.CharField("file", max_length=120)
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    uploaded_at = models.DateTimeField(auto_now_add=True)
    content = models.BinaryField()
    table = models.BinaryField()
    reading = models.JSONField("how it is read", default=dict)
    written_at = models.DateTimeField(null=True, blank=True)
    outcome = models.JSONField(default=dict)

    class Meta:
        ordering = ["-uploaded_at", "-pk"]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("materials:price-list", args=[self.pk])
