"""What is typed to put an entry or a cost right, and to open a week again?"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django import forms
from django.utils import timezone

from jobs.forms.bench import HoursInput, KeyForm, WorkForm
from jobs.models import TimeEntry
from jobs.services.sheets import Hours


class ReasonForm(forms.Form):
    """Why."""

    reason = forms.CharField(label="Why?", max_length=180)


class ReverseForm(KeyForm, ReasonForm):
    """Why a cost is reversed."""


class CorrectForm(WorkForm):
    """What the entry should say, and why. From and to, or hours alone."""

    on_date = forms.DateField(label="Day", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
    began = forms.TimeField(
        label="From", required=False, widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"})
    )
    ended = forms.TimeField(
        label="To", required=False, widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"})
    )
    hours = HoursInput(label="or hours", required=False, help_text="From and to count before the hours.")
    note = forms.CharField(max_length=240, required=False)
    reason = forms.CharField(label="Why?", max_length=240)

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if bool(said.get("began")) != bool(said.get("ended")):
            self.add_error("ended", "From and to go together.")
        elif not said.get("began") and said.get("hours") is None and "hours" not in self.errors:
            self.add_error("hours", "How long did it take?")
        return said

    def hours_said(self) -> Hours:
        """The day with its instants or its length; an end before the start is on the next day."""
        said = self.cleaned_data
        if not said.get("began"):
            return Hours(said["on_date"], seconds=said["hours"])
        began = timezone.make_aware(datetime.combine(said["on_date"], said["began"]))
        ended = timezone.make_aware(datetime.combine(said["on_date"], said["ended"]))
        if ended < began:
            ended = timezone.make_aware(datetime.combine(said["on_date"] + timedelta(days=1), said["ended"]))
        return Hours(said["on_date"], started_at=began, ended_at=ended)


def as_typed(entry: TimeEntry) -> dict[str, Any]:
    """The entry as the form shows it before anything is changed."""
    minutes = (entry.seconds or 0) // 60
    began, ended = (timezone.localtime(at) if at else None for at in (entry.started_at, entry.ended_at))
    return {
        "phase": entry.phase_id,
        "change": entry.change_id,
        "on_date": entry.on_date,
        "began": began.time() if began else None,
        "ended": ended.time() if ended else None,
        "hours": "" if began else f"{minutes // 60}:{minutes % 60:02d}",
        "note": entry.note,
    }
