"""How is an outline typed? Choose the shape, measure it, then its openings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from jobs.form_fields import LengthField
from materials.forms.takeoff import words
from materials.forms.takeoff.fields import (
    LengthsField,
    Shelf,
    TakeoffForm,
    WordedChoice,
    built,
    initial_of,
)
from materials.forms.takeoff.rows import CORNERS, OPENINGS, STATIONS, Rows
from materials.takeoff.outline import Outline
from materials.takeoff.shapes import ArcTop, OffsetTable, Polygon, Rectangle, Shape, Station

SHAPES = (
    ("rectangle", "rectangle"),
    ("polygon", "corner to corner"),
    ("arc", "arc on straight sides"),
    ("table", "widths off a base line"),
)
SHAPE_TYPES: dict[str, type[Shape]] = {
    "rectangle": Rectangle,
    "polygon": Polygon,
    "arc": ArcTop,
    "table": OffsetTable,
}
NEEDED = {"rectangle": ("width", "height"), "arc": ("chord", "rise")}


class OutlineForm(TakeoffForm):
    """The shape and its plain measures; only those of the chosen shape are asked for."""

    shape = forms.ChoiceField(choices=SHAPES, initial="rectangle", widget=forms.RadioSelect)
    width = LengthField(label="Width", required=False)
    height = LengthField(label="Height", required=False)
    chord = LengthField(label="Chord, straight across the ends", required=False)
    rise = LengthField(label="Rise, at the middle of the chord", required=False)
    sides = LengthField(label="Height of the straight sides", required=False)
    every = LengthField(label="A width every", required=False)
    widths = LengthsField(label="Widths in a row, a semicolon between", required=False)
    area_rule = WordedChoice(words.AREA_RULES, label="Area by", required=False)
    other_hand = forms.BooleanField(label="Made to the other hand, left for right", required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        for name in NEEDED.get(cleaned.get("shape", ""), ()):
            if cleaned.get(name) is None and name not in self.errors:
                self.add_error(name, "Measure this.")
        if cleaned.get("widths") and not cleaned.get("every") and "every" not in self.errors:
            self.add_error("every", "How far apart were they measured?")
        return cleaned

    def stations(self) -> tuple[Station, ...]:
        """The widths in a row as stations, the first at the start of the base line."""
        step = self.cleaned_data.get("every") or 0
        widths = self.cleaned_data.get("widths") or ()
        return tuple(Station(step * number, width) for number, width in enumerate(widths))


class OutlineEntry:
    """The outline as typed: its form, and rows of corners, stations and openings."""

    row_kinds: tuple[Rows, ...] = (CORNERS, STATIONS, OPENINGS)

    def __init__(self, shelf: Shelf, data: Mapping[str, Any] | None, made: Outline | None, more: str) -> None:
        self.form = OutlineForm(data, prefix="outline", shelf=shelf, initial=_initial(made))
        held = _rows_held(made)
        self.rows = {
            rows.name: rows.bound(shelf, data, held.get(rows.name, ()), more=more == rows.name)
            for rows in self.row_kinds
        }

    @property
    def shape(self) -> str:
        """Which shape is chosen."""
        chosen = self.form["shape"].value()
        return chosen if chosen in SHAPE_TYPES else "rectangle"

    def used_rows(self) -> list[Rows]:
        """The rows that count for the chosen shape."""
        unused = {"polygon": "stations", "table": "corners"}.get(self.shape)
        both = unused is None
        return [r for r in self.row_kinds if r.name == "openings" or (not both and r.name != unused)]

    def is_valid(self) -> bool:
        """True when the shape, its rows and its openings can be read; every message is set either way."""
        answers = [self.form.is_valid(), *(self.rows[rows.name].is_valid() for rows in self.used_rows())]
        return all(answers)

    def built(self) -> Outline:
        """The outline of what was typed."""
        taken = {rows.name: rows.taken(self.rows[rows.name]) for rows in self.used_rows()}
        openings = taken.pop("openings")
        if "stations" in taken:
            taken["stations"] = self.form.stations() or taken["stations"]
        shape = built(SHAPE_TYPES[self.shape], self.form.cleaned_data, **taken)
        return Outline(shape, openings, bool(self.form.cleaned_data["other_hand"]))


def _initial(made: Outline | None) -> dict[str, Any]:
    if made is None:
        return {}
    name = next(name for name, kind in SHAPE_TYPES.items() if isinstance(made.shape, kind))
    return {"shape": name, "other_hand": made.other_hand, **initial_of(made.shape)}


def _rows_held(made: Outline | None) -> dict[str, Any]:
    if made is None:
        return {}
    held = {"openings": made.openings}
    if isinstance(made.shape, Polygon):
        return {**held, "corners": made.shape.corners}
    if isinstance(made.shape, OffsetTable):
        return {**held, "stations": made.shape.stations}
    return held
