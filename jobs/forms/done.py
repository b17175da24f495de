"""What a maker says about how far each phase is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms

from jobs.models import Phase
from jobs.progress import PhaseRow
from jobs.services.phases import Done

MOST_HOURS = 9999
WHOLE = Decimal(100)


class DoneForm(forms.Form):
    """Per cent done, and hours still to go where the maker knows better than the rate so far."""

    percent = forms.DecimalField(
        label="Done, %",
        min_value=0,
        max_value=100,
        decimal_places=1,
        widget=forms.NumberInput(attrs={"step": 1}),
    )
    hours_left = forms.DecimalField(
        label="Hours still to go",
        min_value=0,
        max_value=MOST_HOURS,
        decimal_places=2,
        required=False,
        widget=forms.NumberInput(attrs={"step": 0.25}),
    )

    def __init__(self, data: Any, *, phase: Phase, row: PhaseRow) -> None:
        said = {"percent": _plain(phase.percent_done), "hours_left": _plain(phase.hours_left)}
        super().__init__(data, prefix=f"phase{phase.pk}", initial=said)
        self.phase, self.row = phase, row

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if said.get("percent") == WHOLE and said.get("hours_left"):
            self.add_error("hours_left", "At 100 % no hours are to go. Empty this, or say less than 100 %.")
        return said

    @property
    def done(self) -> Done:
        """The maker's word."""
        return Done(self.cleaned_data["percent"], self.cleaned_data["hours_left"])


def done_forms(phases: Sequence[Phase], rows: Mapping[int, PhaseRow], data: Any = None) -> list[DoneForm]:
    """A small form for each phase beside its hours, sent together."""
    return [DoneForm(data, phase=phase, row=rows[phase.pk]) for phase in phases]


def _plain(value: Decimal | None) -> str:
    return "" if value is None else f"{value.normalize():f}"
