"""An item opened and saved again as it stands stays what it was, whatever of it is nothing."""

from __future__ import annotations

from dataclasses import fields, replace
from decimal import Decimal

import pytest
from django import forms
from django.urls import reverse

from jobs.form_fields import LengthField
from materials.forms.takeoff import ENTRY_KINDS, Entry
from materials.forms.takeoff.fields import form_name
from materials.forms.takeoff.outline import OutlineEntry, OutlineForm
from materials.models import TakeoffItem
from materials.takeoff.cladding import Cladding, Fitting
from materials.takeoff.codec import to_json
from materials.takeoff.counted import Manual, ManualLine, PieceLine, Pieces
from materials.takeoff.finishes import Bead, Beads, Finish, Surface
from materials.takeoff.fixings import Crossing, EdgeRow, Fixings
from materials.takeoff.framing import Framing, Packing, Template
from materials.takeoff.lining import Lining
from materials.takeoff.outline import Opening, Outline
from materials.takeoff.setting_out import SettingOut
from materials.takeoff.shapes import ArcTop, OffsetTable, Point, Polygon, Rectangle, Station
from materials.takeoff.sheets import Part, SheetParts
from materials.takeoff.trim import End, Run, Trim
from tests import make
from tests.materials.takeoff.typed import sent_back

pytestmark = pytest.mark.django_db

HOLE = (Opening("", 1, 1, 1, 1, 1),)
SHAPES = (
    Rectangle(1, 1),
    Polygon((Point(1, 1), Point(1, 1), Point(1, 1))),
    ArcTop(1, 1, 1),
    OffsetTable((Station(1, 1), Station(1, 1))),
)
ASKED_FOR = {(Opening, "height_mm10")}  # an opening without a height is asked how high it is


def one_of_each(outline):
    """Every kind of take-off with a row of every sort, each figure more than nothing."""
    key = {kind: str(make.material(kind=kind).pk) for kind in ("board", "sheet", "liquid", "fixing")}
    board, sheet, liquid, fixing = key.values()
    one = Decimal(1)
    return {
        "cladding": Cladding(outline, board, fittings=(Fitting("", 1, 1),)),
        "lining": Lining(outline, sheet),
        "sheet_parts": SheetParts(sheet, (Part("", 1, 1),)),
        "framing": Framing(
            outline, board, 1, templates=(Template("", 1, 1),), packings=(Packing(board, 1, 1),)
        ),
        "trim_run": Trim(board, (Run("", 1, 1, End.SCRIBE, End.SCRIBE),)),
        "fixings": Fixings(fixing, (Crossing("", 1, 1),), (EdgeRow("", 1, 1),)),
        "finish": Finish(liquid, (Surface("Wall", 1, 1, 1, one),), 1, one, one),
        "beads": Beads(liquid, (Bead("", 1),), 1, one),
        "pieces": Pieces((PieceLine(fixing, 1),)),
        "setting_out": SettingOut("Hooks", 1, 1),
        "manual": Manual("offcuts", (ManualLine(board, one),), one),
    }


def takes_nothing(field):
    if isinstance(field, LengthField):
        return field.least_mm10 == 0
    return isinstance(field, forms.IntegerField | forms.DecimalField) and field.min_value in (None, 0)


def brought_to_nothing(made, form):
    """The same with 0 in every field where the form lets 0 be."""
    names = {field.name for field in fields(made) if (type(made), field.name) not in ASKED_FOR}
    kept = {name: getattr(made, name) for name in names}
    nothing = {
        name: type(kept[name])(0) for name in names if takes_nothing(form.base_fields.get(form_name(name)))
    }
    return replace(made, **nothing)


def with_rows(made, kinds):
    for rows in kinds:
        if hasattr(made, rows.name):
            held = getattr(made, rows.name)
            made = replace(made, **{rows.name: tuple(brought_to_nothing(row, rows.form) for row in held)})
    return made


def nothing_of(kind, made):
    made = with_rows(brought_to_nothing(made, ENTRY_KINDS[kind].form), ENTRY_KINDS[kind].rows)
    if not ENTRY_KINDS[kind].has_outline:
        return made
    shape = with_rows(brought_to_nothing(made.outline.shape, OutlineForm), OutlineEntry.row_kinds)
    return replace(made, outline=replace(with_rows(made.outline, OutlineEntry.row_kinds), shape=shape))


def read_again(kind, made):
    """The inputs of the form that shows these, sent back as it stands."""
    item = TakeoffItem(kind=kind, title="As it is", inputs=to_json(made))
    again = Entry(ENTRY_KINDS[kind], sent_back(Entry(ENTRY_KINDS[kind], item=item)), item)
    assert again.is_valid(), (kind, again.troubles, [rows.errors for rows in again.rows.values()])
    return again.inputs()


def test_the_brought_to_nothing_are_nothing(workshop):
    every = one_of_each(Outline(SHAPES[3], HOLE))
    wall, trim = nothing_of("cladding", every["cladding"]), nothing_of("trim_run", every["trim_run"])
    assert (wall.stagger_mm10, wall.fittings[0].up_mm10, trim.scribe_mm10) == (0, 0, 0)
    assert wall.outline.shape.stations[0] == Station(0, 0)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: type(shape).__name__)
def test_what_is_nothing_reads_back_as_nothing(workshop, shape):
    every = one_of_each(Outline(shape, HOLE))
    assert set(every) == set(ENTRY_KINDS)
    for kind, made in every.items():
        nothing = nothing_of(kind, made)
        assert read_again(kind, nothing) == nothing
        assert read_again(kind, made) == made


def walls():
    trim, board = make.tongued_board(), str(make.tongued_board().pk)
    ridge = OffsetTable((Station(0, 0), Station(5_000, 4_000), Station(10_000, 0)))
    return [
        ("trim_run", Trim(str(trim.pk), (Run("", 20_000, 1, End.SCRIBE, End.SCRIBE),), scribe_mm10=0)),
        ("cladding", Cladding(Outline(Rectangle(60_000, 9_000)), board, stagger_mm10=0)),
        ("cladding", Cladding(Outline(ridge), board)),
    ]


def test_saved_as_it_stands_the_quantities_stay(as_maker):
    for kind, made in walls():
        item = make.takeoff(made, kind)
        edit = reverse("materials:takeoff-edit", args=[item.pk])
        shown = sent_back(as_maker.get(edit).context["entry"])
        assert as_maker.post(edit, {**shown, "title": "Again", "act": "save"}).status_code == 302
        stored = TakeoffItem.objects.get(pk=item.pk)
        assert (stored.title, stored.inputs, stored.result) == ("Again", item.inputs, item.result)
