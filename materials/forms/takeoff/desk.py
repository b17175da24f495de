"""What is typed into the desk calculators: bends, kerfs, movement."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from django import forms

from jobs.form_fields import LengthField
from materials.forms.takeoff.fields import WordedChoice
from materials.takeoff.bending import Bend, Curve, Kerfs, check_bend, kerf_cuts
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.movement import SPECIES, Movement, Sawn, gap_to_leave, seasonal_change
from materials.takeoff.shapes import arc_of

CURVES = {Curve.ACROSS: "across the face grain", Curve.ALONG: "along the face grain"}
SAWN = {Sawn.FLAT: "flat-sawn", Sawn.QUARTER: "quarter-sawn"}
A = TypeVar("A")


class DeskForm(forms.Form):
    """A calculator's form: asks nothing until something was typed."""

    def _refuse(self, trouble: MeasureAgain) -> None:
        self.add_error(trouble.field if trouble.field in self.fields else None, trouble.message)


class BendForm(DeskForm):
    """A sheet and its curve, by radius or by chord and rise."""

    thickness = LengthField(label="Thickness of the sheet", least_mm10=1)
    curve = WordedChoice(CURVES, label="It curves")
    radius = LengthField(label="Radius", required=False)
    chord = LengthField(label="or chord", required=False)
    rise = LengthField(label="and rise", required=False)

    def answer(self) -> Bend | None:
        """What the table says; None until it was asked, or with the message beside the field."""
        if not self.is_bound or not self.is_valid():
            return None
        try:
            return check_bend(self.cleaned_data["thickness"], self._radius(), self.cleaned_data["curve"])
        except MeasureAgain as trouble:
            self._refuse(trouble)
            return None

    def _radius(self) -> int:
        typed = self.cleaned_data
        if typed["radius"]:
            return int(typed["radius"])
        if typed["chord"] is None and typed["rise"] is None:
            raise MeasureAgain("Measure the radius of the bend, or its chord and rise.", "radius")
        return round(arc_of(typed["chord"] or 0, typed["rise"] or 0).radius)


class KerfForm(DeskForm):
    """Kerfs that close over a bend."""

    thickness = LengthField(label="Thickness of the sheet", least_mm10=1)
    radius = LengthField(label="Outside radius", least_mm10=1)
    degrees = forms.DecimalField(
        label="Turn, degrees", initial=90, min_value=Decimal(1), max_value=Decimal(360)
    )
    kerf = LengthField(label="Saw's kerf", least_mm10=1, initial=30)
    skin = LengthField(label="Skin left uncut", least_mm10=1, initial=20)

    def answer(self) -> Kerfs | None:
        """Number and spacing of the kerfs."""
        if not self.is_bound or not self.is_valid():
            return None
        typed = self.cleaned_data
        try:
            return kerf_cuts(
                thickness_mm10=typed["thickness"],
                radius_mm10=typed["radius"],
                degrees=typed["degrees"],
                kerf_mm10=typed["kerf"],
                skin_mm10=typed["skin"],
            )
        except MeasureAgain as trouble:
            self._refuse(trouble)
            return None


@dataclass(frozen=True)
class MovementAnswer:
    """The change of width and the gap to leave for it."""

    movement: Movement
    gap_mm: Decimal


class MovementForm(DeskForm):
    """Boards of a timber between two moistures."""

    species = forms.ChoiceField(label="Timber", choices=[(name, name) for name in SPECIES])
    sawn = WordedChoice(SAWN, label="Sawn")
    width = LengthField(label="Width of a board", least_mm10=1)
    boards = forms.IntegerField(label="Boards side by side", min_value=1, max_value=1000, initial=1)
    from_pct = forms.DecimalField(
        label="Moisture now, %", initial=8, min_value=Decimal(0), max_value=Decimal(30)
    )
    to_pct = forms.DecimalField(
        label="Moisture later, %", initial=12, min_value=Decimal(0), max_value=Decimal(30)
    )

    def answer(self) -> MovementAnswer | None:
        """What the handbook's coefficients say."""
        if not self.is_bound or not self.is_valid():
            return None
        typed = self.cleaned_data
        change = seasonal_change(
            SPECIES[typed["species"]],
            typed["sawn"],
            width_mm10=typed["width"],
            boards=typed["boards"],
            from_pct=typed["from_pct"],
            to_pct=typed["to_pct"],
        )
        return MovementAnswer(change, gap_to_leave(change))
