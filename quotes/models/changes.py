"""What was asked for by word of mouth before there was a paper?"""

from __future__ import annotations

from django.db import models

from jobs.models import Change, Person


class VerbalInstruction(models.Model):
    """A change asked for aloud: who said what, when; confirmed in writing when its change order goes out."""

    change = models.OneToOneField(Change, on_delete=models.PROTECT, related_name="verbal_instruction")
    given_by = models.CharField("who gave it", max_length=120)
    given_on = models.DateField("when")
    words = models.TextField("what was said")
    taken_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    confirmed_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return self.words[:60]
