"""For whom is the work done?"""

from __future__ import annotations

from django.db import models
from django.urls import reverse


class Client(models.Model):
    """A person or a company the workshop works for."""

    name = models.CharField(max_length=120)
    is_company = models.BooleanField(default=False)
    contact = models.CharField("contact person", max_length=120, blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(blank=True)
    country = models.CharField(max_length=2, blank=True)
    tax_number = models.CharField("tax or VAT number", max_length=40, blank=True)
    notes = models.TextField(blank=True)
    archived_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("jobs:client", args=[self.pk])
