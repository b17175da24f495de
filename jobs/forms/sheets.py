"""What is typed to put an entry or a cost right, and to open a week again?"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any
from uuid import uuid4

from django import forms
from django.utils import timezone

from jobs.forms.bench import HoursInput, KeyForm, WorkForm, check_year
from jobs.models import TimeEntry
from jobs.progress.stretches import elapsed_seconds
from jobs.services.hours import in_steps, length
from jobs.services.sheets import Hours


class ReasonForm(forms.Form):
    """Why."""

    reason = forms.CharField(label="Why?", max_length=180)


class ReverseForm(KeyForm, ReasonForm):
    """Why a cost is reversed."""


class EndForm(forms.Form):
    """When a timer that nobody stopped was over, and how that is known."""

    day = forms.DateField(
        label="It ended on", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
    )
    clock = forms.TimeField(label="at", widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"}))
    reason = forms.CharField(label="Why?", max_length=180)

    def clean_day(self) -> date:
        day: date = self.cleaned_data["day"]
        check_year(day)
        return day

    def at_said(self) -> datetime:
        """The instant on the workshop's clock."""
        said = self.cleaned_data
        return timezone.make_aware(datetime.combine(said["day"], said["clock"]))


class CorrectForm(WorkForm):
    """What the entry should say, and why. From and to, or hours alone."""

    on_date = forms.DateField(label="Day", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
    began = forms.TimeField(
        label="From", required=False, widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"})
    )
    ended = forms.TimeField(
        label="To", required=False, widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"})
    )
    hours = HoursInput(
        label="or hours", required=False, help_text="They count where From and To are left as they are."
    )
    note = forms.CharField(max_length=240, required=False)
    reason = forms.CharField(label="Why?", max_length=240)

    def __init__(self, data: Any = None, *, entry: TimeEntry) -> None:
        super().__init__(data, initial={"key": uuid4(), **as_typed(entry)})
        self.entry = entry

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if bool(said.get("began")) != bool(said.get("ended")):
            self.add_error("ended", "From and to go together.")
        elif not said.get("began") and said.get("hours") is None and "hours" not in self.errors:
            self.add_error("hours", "How long did it take?")
        elif said.get("began") and said.get("hours") is not None and said.get("on_date"):
            self._choose_one(said)
        return said

    def hours_said(self) -> Hours:
        """The day with its instants or its length; an end before the start is on the next day."""
        said = self.cleaned_data
        if not said.get("began"):
            return Hours(said["on_date"], seconds=said["hours"])
        began, ended = self._between(said)
        return Hours(said["on_date"], started_at=began, ended_at=ended)

    def _choose_one(self, said: dict[str, Any]) -> None:
        """Where the two disagree, hours typed beside a from and to left as they were count; else neither."""
        began, ended = self._between(said)
        between = elapsed_seconds(began, ended)
        if in_steps(between) == in_steps(said["hours"]):
            return
        if self._clocks_untouched(said):
            said["began"] = said["ended"] = None
            return
        self.add_error(
            "hours",
            f"From {said['began']:%H:%M} to {said['ended']:%H:%M} is {length(between)}, not"
            f" {length(said['hours'])}: empty one of the two.",
        )

    def _between(self, said: dict[str, Any]) -> tuple[datetime, datetime]:
        old = self.entry
        if (
            old.started_at
            and old.ended_at
            and self._clocks_untouched(said)
            and said["on_date"] == old.on_date
        ):
            return old.started_at, old.ended_at  # to the second, which the form does not show
        began = timezone.make_aware(datetime.combine(said["on_date"], said["began"]))
        ended = timezone.make_aware(datetime.combine(said["on_date"], said["ended"]))
        if ended < began:
            ended = timezone.make_aware(datetime.combine(said["on_date"] + timedelta(days=1), said["ended"]))
        return began, ended

    def _clocks_untouched(self, said: dict[str, Any]) -> bool:
        return (said["began"], said["ended"]) == (self.initial["began"], self.initial["ended"])


def as_typed(entry: TimeEntry) -> dict[str, Any]:
    """The entry as the form shows it before anything is changed."""
    began, ended = (timezone.localtime(at) if at else None for at in (entry.started_at, entry.ended_at))
    return {
        "phase": entry.phase_id,
        "change": entry.change_id,
        "on_date": entry.on_date,
        "began": _to_the_minute(began),
        "ended": _to_the_minute(ended),
        "hours": "" if began else length(entry.seconds or 0),
        "note": entry.note,
    }


def _to_the_minute(at: datetime | None) -> time | None:
    return at.time().replace(second=0, microsecond=0) if at else None
