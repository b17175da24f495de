"""What is known of a change before it is priced?"""

from __future__ import annotations

from decimal import Decimal

from django.db import models

from jobs.fields import HoursField
from jobs.models import Change, Person, Photo


class ChangeNote(models.Model):
    """Rough hours and a photo; and where it was asked for aloud, who said what and when.

    A verbal instruction is confirmed in writing when its change order goes out.
    """

    change = models.OneToOneField(Change, on_delete=models.PROTECT, related_name="note")
    key = models.UUIDField(null=True, blank=True, unique=True)
    rough_hours = HoursField(default=Decimal(0))
    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    shows_photo = models.BooleanField("the client sees the picture", default=False)
    given_by = models.CharField("asked for by", max_length=120, blank=True)
    given_on = models.DateField("on", null=True, blank=True)
    words = models.TextField("what was said", blank=True)
    confirmed_at = models.DateTimeField("confirmed in writing", null=True, blank=True)
    taken_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    def __str__(self) -> str:
        return self.words[:60] or str(self.change)

    @property
    def is_verbal(self) -> bool:
        return bool(self.words)
