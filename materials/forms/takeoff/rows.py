"""Rows of a take-off: openings, corners, parts, runs; a row left empty is no row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django import forms

from jobs.form_fields import LengthField
from materials.enums import MaterialKind
from materials.forms.takeoff import words
from materials.forms.takeoff.fields import (
    MaterialChoice,
    Shelf,
    TakeoffForm,
    WordedChoice,
    built,
    initial_of,
)
from materials.takeoff.cladding import Fitting
from materials.takeoff.counted import ManualLine, PieceLine
from materials.takeoff.finishes import Bead, Surface
from materials.takeoff.fixings import Crossing, EdgeRow
from materials.takeoff.framing import Packing, Template
from materials.takeoff.outline import Opening
from materials.takeoff.shapes import Point, Station
from materials.takeoff.sheets import Part
from materials.takeoff.trim import Run

if TYPE_CHECKING:
    _RowSet = forms.BaseFormSet[TakeoffForm]
else:
    _RowSet = forms.BaseFormSet  # subscriptable for the type checker alone

MOST_ROWS = 200
MORE = 4


def name_field(label: str = "Name") -> forms.CharField:
    """A short name."""
    return forms.CharField(label=label, max_length=60, required=False)


def count_field(label: str, *, initial: int | None = 1, **options: Any) -> forms.IntegerField:
    """A whole number of one or more; it is the row's own default and so does not make a row."""
    return forms.IntegerField(label=label, min_value=1, max_value=100_000, initial=initial, **options)


class OpeningForm(TakeoffForm):
    """One opening; its height may be left out where it is round."""

    name = name_field()
    left = LengthField(label="From left")
    bottom = LengthField(label="Up")
    width = LengthField(label="Width", least_mm10=1)
    height = LengthField(label="Height", required=False)
    clearance = LengthField(label="Clear", required=False)
    is_round = forms.BooleanField(label="Round", required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if not cleaned.get("is_round") and not cleaned.get("height") and "height" not in self.errors:
            self.add_error("height", "How high?")
        cleaned["height"] = cleaned.get("height") or cleaned.get("width")
        return cleaned


class CornerForm(TakeoffForm):
    """One corner of an outline."""

    across = LengthField(label="Across")
    up = LengthField(label="Up")


class StationForm(TakeoffForm):
    """One width off a base line."""

    along = LengthField(label="Along the base line")
    width = LengthField(label="Width there")


class FittingForm(TakeoffForm):
    """Something fixed to the boards, by its middle."""

    name = name_field()
    across = LengthField(label="Left to middle")
    up = LengthField(label="Up to middle")


class PartForm(TakeoffForm):
    """Sheet parts all alike."""

    name = name_field()
    length = LengthField(label="Length", least_mm10=1)
    width = LengthField(label="Width", least_mm10=1)
    quantity = count_field("How many")
    grain = WordedChoice(words.GRAINS, label="Grain")
    scribe = LengthField(label="To scribe", required=False)
    runs_on = forms.CharField(label="Runs on", max_length=30, required=False)


class TemplateForm(TakeoffForm):
    """Pieces cut like one."""

    name = name_field("Like")
    length = LengthField(label="Length", least_mm10=1)
    quantity = count_field("How many")


class PackingForm(TakeoffForm):
    """Packing pieces behind the members."""

    material_key = MaterialChoice(MaterialKind.BOARD, MaterialKind.LENGTH)
    length = LengthField(label="Each long", least_mm10=1)
    centres = LengthField(label="Centres", least_mm10=1)


class RunForm(TakeoffForm):
    """Lengths of trim all alike."""

    name = name_field()
    length = LengthField(label="Length", least_mm10=1)
    quantity = count_field("How many")
    left = WordedChoice(words.ENDS, label="Left end")
    right = WordedChoice(words.ENDS, label="Right end")


class CrossingForm(TakeoffForm):
    """Boards over battens."""

    name = name_field()
    boards = count_field("Boards", initial=None)
    battens = count_field("Battens", initial=None)
    each = count_field("Each")


class EdgeForm(TakeoffForm):
    """Fixings along an edge."""

    name = name_field()
    length = LengthField(label="Length", least_mm10=1)
    centres = LengthField(label="Centres", least_mm10=1)
    rows = count_field("Rows")


class SurfaceForm(TakeoffForm):
    """Surfaces all alike, by size or by area."""

    name = name_field()
    width = LengthField(label="Width", required=False)
    height = LengthField(label="Height", required=False)
    area_m2 = forms.DecimalField(label="or area, m²", required=False, min_value=0, max_value=100_000)
    quantity = count_field("How many")


class BeadForm(TakeoffForm):
    """Beads all alike."""

    name = name_field()
    length = LengthField(label="Length", least_mm10=1)
    quantity = count_field("How many")


class PieceForm(TakeoffForm):
    """So many of one thing."""

    material_key = MaterialChoice(
        MaterialKind.PIECE, MaterialKind.FIXING, MaterialKind.LENGTH, with_unit=True
    )
    quantity = count_field("How many", initial=None)
    note = name_field("Note")


class ManualForm(TakeoffForm):
    """An amount of one material."""

    material_key = MaterialChoice(*MaterialKind)
    amount = forms.DecimalField(label="Amount", min_value=0, max_value=1_000_000)
    unit = WordedChoice(words.UNITS, label="Unit")


class RowSet(_RowSet):
    """Rows of which any may be left or made empty; `trouble` is calculation's message about them all."""

    trouble = ""
    default_error_messages = {
        **_RowSet.default_error_messages,
        "missing_management_form": "Some of the rows did not arrive. Send them again.",
        "too_many_forms": "At most %(num)d rows.",
    }

    def initial_form_count(self) -> int:
        """Once sent, every row may be empty: emptied rows are taken out."""
        return 0 if self.is_bound else super().initial_form_count()


@dataclass(frozen=True)
class Rows:
    """Which rows an entry takes: their name in the inputs, what each becomes, how each is typed."""

    name: str
    heading: str
    row: type[Any]
    form: type[TakeoffForm]
    hint: str = ""
    blank: int = 2

    def bound(self, shelf: Shelf, data: Mapping[str, Any] | None, made: Sequence[Any], *, more: bool) -> Any:
        """The rows as a formset: what was typed, or what the inputs hold, and some blank ones."""
        number = self.blank + (MORE if more else 0)
        factory = forms.formset_factory(
            self.form, formset=RowSet, extra=number, max_num=MOST_ROWS, validate_max=True
        )
        if data is None:
            initial = [initial_of(each) for each in made]
            return factory(prefix=self.name, initial=initial, form_kwargs={"shelf": shelf})
        typed = with_more(data, self.name) if more else data
        return factory(typed, prefix=self.name, form_kwargs={"shelf": shelf})

    def taken(self, formset: Any) -> tuple[Any, ...]:
        """The rows that were filled in, in order."""
        filled = [form for form in formset.forms if form.has_changed() and form.cleaned_data]
        return tuple(built(self.row, form.cleaned_data) for form in filled)


def with_more(data: Mapping[str, Any], prefix: str) -> Any:
    """The typed data, asking for some rows more."""
    more: Any = data.copy() if hasattr(data, "copy") else dict(data)
    total = more.get(f"{prefix}-TOTAL_FORMS", "0")
    more[f"{prefix}-TOTAL_FORMS"] = str(min(int(total) if total.isdigit() else 0, MOST_ROWS - MORE) + MORE)
    return more


OPENINGS = Rows(
    "openings",
    "Openings",
    Opening,
    OpeningForm,
    "Measured to the opening itself, from the left and the bottom.",
)
CORNERS = Rows("corners", "Corners, in order round the shape", Point, CornerForm, blank=4)
STATIONS = Rows("stations", "Widths off the base line", Station, StationForm, blank=4)
FITTINGS = Rows("fittings", "Fittings on the boards", Fitting, FittingForm, blank=1)
PARTS = Rows(
    "parts",
    "Parts, by their finished size",
    Part,
    PartForm,
    "Parts that “run on” by the same word are cut side by side, so that grooves and figure line up.",
    blank=4,
)
TEMPLATES = Rows("templates", "Cut like a template", Template, TemplateForm)
PACKINGS = Rows(
    "packings", "Packing pieces behind the members, where the wall is crooked", Packing, PackingForm, blank=1
)
RUNS = Rows("runs", "Runs", Run, RunForm, blank=3)
CROSSINGS = Rows("crossings", "Crossings of boards and battens", Crossing, CrossingForm)
EDGES = Rows("edges", "Along edges", EdgeRow, EdgeForm)
SURFACES = Rows("surfaces", "Surfaces", Surface, SurfaceForm, blank=3)
BEADS = Rows("beads", "Beads", Bead, BeadForm)
PIECES = Rows("lines", "Pieces", PieceLine, PieceForm, blank=4)
AMOUNTS = Rows("lines", "Amounts", ManualLine, ManualForm, blank=3)
