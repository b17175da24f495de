"""The plain fields of each kind of take-off; its rows and its outline stand beside them."""

from __future__ import annotations

from decimal import Decimal

from django import forms

from jobs.form_fields import LengthField
from materials.enums import MaterialKind
from materials.forms.takeoff import words
from materials.forms.takeoff.fields import (
    LengthsField,
    LinesChoice,
    MaterialChoice,
    TakeoffForm,
    WordedChoice,
)

LONG_STOCK = (MaterialKind.BOARD, MaterialKind.LENGTH)


def percent_field(label: str) -> forms.DecimalField:
    """A share to add, none if left empty."""
    return forms.DecimalField(label=label, required=False, min_value=Decimal(0), max_value=Decimal(100))


class CladdingFields(TakeoffForm):
    material_key = MaterialChoice(*LONG_STOCK, label="Board")
    direction = WordedChoice(words.BOARDS_RUN, label="Boards run")
    start = WordedChoice(words.STARTS, label="Set out from")
    least_rip = LengthField(label="Narrowest edge board", required=False)
    end_joint = WordedChoice(words.END_JOINTS, label="End joints")
    batten_spacing = LengthField(label="Batten centres, under end joints", required=False)
    stagger = LengthField(label="Stagger of end joints", required=False, initial=3_000)
    eye_line = LengthField(label="Eye line above the bottom", required=False)


class LiningFields(TakeoffForm):
    material_key = MaterialChoice(MaterialKind.SHEET, label="Sheet")
    direction = WordedChoice(words.SHEETS_RUN, label="Sheet's length runs")
    landing = WordedChoice(words.LANDINGS, label="Joints fall")
    pitch = LengthField(label="Batten or groove centres", required=False)
    first = LengthField(label="First batten or groove at", required=False)
    hidden = LengthsField(label="Hidden places from the left, a semicolon between", required=False)
    flush = LengthField(label="Left on every edge to trim", required=False)
    gap = LengthField(label="Gap between sheets", required=False)


class SheetPartsFields(TakeoffForm):
    material_key = MaterialChoice(MaterialKind.SHEET, label="Sheet")
    flush = LengthField(label="Left on every edge to trim", required=False)


class FramingFields(TakeoffForm):
    material_key = MaterialChoice(*LONG_STOCK, label="Batten, rib or stud")
    centres = LengthField(label="Centres", least_mm10=1)
    direction = WordedChoice(words.SHEETS_RUN, label="Members run")
    face = LengthField(label="Face, if not its width", required=False)
    noggin_rows = forms.IntegerField(label="Rows of noggins", required=False, min_value=0, max_value=50)
    plates = forms.BooleanField(label="A plate along each end", required=False)
    frame_openings = forms.BooleanField(label="Frame the openings", required=False)


class TrimFields(TakeoffForm):
    material_key = MaterialChoice(*LONG_STOCK, label="Trim")
    taken = WordedChoice(words.TAKEN, label="Mitred lengths are measured")
    scribe = LengthField(label="Left on each scribed end", required=False, initial=100)


class FixingsFields(TakeoffForm):
    material_key = MaterialChoice(MaterialKind.FIXING, MaterialKind.PIECE, label="Fixing")
    fixed = LengthField(label="Thickness they go through", required=False)
    spare = percent_field("Spare, %")


class FinishFields(TakeoffForm):
    material_key = MaterialChoice(MaterialKind.LIQUID, label="Finish")
    coats = forms.IntegerField(label="Coats", min_value=1, max_value=20, initial=2)
    coverage = forms.DecimalField(
        label="One litre covers, m²",
        required=False,
        min_value=Decimal(0),
        max_value=Decimal(1000),
        help_text="Else as in the catalogue.",
    )
    spare = percent_field("Spare, %")


class BeadsFields(TakeoffForm):
    material_key = MaterialChoice(MaterialKind.LIQUID, label="Adhesive, sealant or filler")
    diameter = LengthField(label="Bead, across", least_mm10=1)
    spare = percent_field("Spare, %")


class PiecesFields(TakeoffForm):
    """Pieces are all rows."""


class SettingOutFields(TakeoffForm):
    name = forms.CharField(label="What is set out", max_length=60)
    run = LengthField(label="Run", least_mm10=1)
    count = forms.IntegerField(label="How many", min_value=1, max_value=500)
    size = LengthField(label="Width of each", required=False)
    spacing = WordedChoice(words.SPACINGS, label="Spacing")
    snap_item = LinesChoice(label="Move to the lines of", required=False)
    snap_start = LengthField(label="Run starts, along that", required=False)
    snap_pitch = LengthField(label="or to lines apart", required=False)
    snap_first = LengthField(label="First line at", required=False)


class ManualFields(TakeoffForm):
    reason = forms.CharField(label="Why by hand", max_length=200)
    mass_kg = forms.DecimalField(
        label="Mass besides, kg", required=False, min_value=Decimal(0), max_value=Decimal(100_000)
    )
