"""How the saw takes its share, as typed: kerf, trim, what is worth keeping, how long to search."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.form_fields import LengthField
from materials.enums import PlanKind
from materials.queries.plan_tasks import SawSettings

WIDEST_KERF_MM10 = 200
WIDEST_TRIM_MM10 = 3_000
LONGEST_SEARCH = 120


class SawForm(forms.Form):
    """The settings of one plan. Sheets have two least sides, boards one least length."""

    kerf = LengthField(label="Kerf of the saw", most_mm10=WIDEST_KERF_MM10)
    trim = LengthField(label="Trim off each end", most_mm10=WIDEST_TRIM_MM10)
    least_offcut = LengthField(label="Keep offcuts from this length up")
    least_offcut_width = LengthField(label="and from this width up")
    seconds = forms.IntegerField(
        label="Search for so many seconds", min_value=1, max_value=LONGEST_SEARCH,
        widget=forms.NumberInput(attrs={"class": "figure"}),
    )  # fmt: skip

    def __init__(self, *args: Any, kind: str, **options: Any) -> None:
        super().__init__(*args, **options)
        if kind == PlanKind.SHEET:
            self.fields["trim"].label = "Trim off each edge"
        else:
            del self.fields["least_offcut_width"]

    @property
    def settings(self) -> SawSettings:
        """What was typed, once it is valid."""
        typed = self.cleaned_data
        return SawSettings(
            kerf_mm10=typed["kerf"],
            trim_mm10=typed["trim"],
            least_offcut_mm10=typed["least_offcut"],
            least_offcut_width_mm10=typed.get("least_offcut_width") or 0,
            seconds=typed["seconds"],
        )


def typed_as(settings: SawSettings) -> dict[str, int]:
    """What the form starts from."""
    return {
        "kerf": settings.kerf_mm10,
        "trim": settings.trim_mm10,
        "least_offcut": settings.least_offcut_mm10,
        "least_offcut_width": settings.least_offcut_width_mm10,
        "seconds": settings.seconds,
    }


class CutForm(forms.Form):
    """Which bar or sheet of a plan has been cut, how many of it, and which plan the maker looked at."""

    index = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    count = forms.IntegerField(min_value=1, max_value=10_000)
