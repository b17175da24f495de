"""What is typed about the supports of a vehicle and where the mass of each phase sits."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.form_fields import LengthField
from materials.models import Supports
from materials.queries.takeoff import JobTakeoff

HEAVIEST_KG = 100_000
FARTHEST_MM10 = 1_000_000
MASSES = {
    "front_empty_kg": "Front, empty, kg",
    "front_limit_kg": "Front, at most, kg",
    "rear_empty_kg": "Rear, empty, kg",
    "rear_limit_kg": "Rear, at most, kg",
}


class LoadsForm(forms.Form):
    """How far apart the supports are, what they carry, and how far ahead of the rear one each phase sits."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    apart_mm10 = LengthField(
        label="From rear to front support (axle to axle, or axle to hitch)",
        least_mm10=1,
        most_mm10=FARTHEST_MM10,
    )

    def __init__(self, data: Any = None, *, takeoff: JobTakeoff, supports: Supports | None) -> None:
        super().__init__(data)
        self.supports = supports
        self.weighed = [row for row in takeoff.phases if row.mass_kg]
        self._ask_masses()
        for row in self.weighed:
            self._ask_place(row.phase.pk, row.phase.title)
        if supports is not None:
            self.initial = {"version": supports.version, "apart_mm10": supports.apart_mm10}

    def _ask_masses(self) -> None:
        for name, label in MASSES.items():
            self.fields[name] = forms.DecimalField(
                label=label,
                min_value=0,
                max_value=HEAVIEST_KG,
                decimal_places=1,
                required=False,
                initial=getattr(self.supports, name, None),
                widget=forms.NumberInput(attrs={"class": "figure"}),
            )

    def _ask_place(self, phase: int, title: str) -> None:
        ahead = self.supports.ahead_mm10.get(str(phase)) if self.supports else None
        self.fields[f"phase_{phase}"] = LengthField(
            label=f"{title}, ahead of the rear support",
            required=False,
            most_mm10=FARTHEST_MM10,
            initial=None if ahead is None else abs(ahead),
        )
        self.fields[f"phase_{phase}_behind"] = forms.BooleanField(
            label=f"{title} is behind it", required=False, initial=ahead is not None and ahead < 0
        )

    @property
    def places(self) -> list[forms.BoundField]:
        """Where each phase sits, for the page."""
        return [self[name] for name in self.fields if name.startswith("phase_")]

    @property
    def opened_on(self) -> int:
        """The version that was edited; nought, which no record has, where none was sent."""
        return self.cleaned_data.get("version") or 0

    @property
    def details(self) -> dict[str, Any]:
        """What was typed, as it is kept."""
        typed = self.cleaned_data
        names = ["apart_mm10", *MASSES]
        return {name: typed[name] for name in names} | {"ahead_mm10": self._ahead()}

    def _ahead(self) -> dict[str, int]:
        places = {row.phase.pk: self.cleaned_data[f"phase_{row.phase.pk}"] for row in self.weighed}
        return {
            str(pk): -ahead if self.cleaned_data[f"phase_{pk}_behind"] else ahead
            for pk, ahead in places.items()
            if ahead is not None
        }
