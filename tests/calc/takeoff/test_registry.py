"""Every kind goes into JSON and back, and computes the same from either side."""

import json
from decimal import Decimal

import pytest

from materials.takeoff import registry
from materials.takeoff.cladding import Cladding, Fitting
from materials.takeoff.codec import from_json, to_json
from materials.takeoff.counted import Manual, ManualLine, PieceLine, Pieces
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.finishes import Bead, Beads, Finish, Surface
from materials.takeoff.fixings import Crossing, EdgeRow, Fixings
from materials.takeoff.framing import Framing, Template
from materials.takeoff.lining import Lining
from materials.takeoff.outline import Outline
from materials.takeoff.setting_out import SettingOut
from materials.takeoff.shapes import ArcTop, OffsetTable, Station
from materials.takeoff.sheets import Part, SheetParts
from materials.takeoff.trim import Run, Trim
from materials.takeoff.ways import Way, Ways, compare
from tests.calc.takeoff.hand import CATALOGUE, polygon, wall, window

TABLE = Outline(OffsetTable((Station(0, 9_000), Station(5_000, 9_500), Station(10_000, 8_000))))
ONE_OF_EACH = [
    ("cladding", Cladding(wall(24_000, 18_000, window()), "board", fittings=(Fitting("Lamp", 1, 2),))),
    ("cladding", Cladding(polygon((0, 0), (20_000, 0), (15_000, 9_000)), "board")),
    ("cladding", Cladding(Outline(ArcTop(24_000, 3_000, 9_000)), "board")),
    ("lining", Lining(TABLE, "sheet")),
    ("sheet_parts", SheetParts("sheet", (Part("Side", 7_200, 5_600, 2),))),
    ("framing", Framing(wall(), "batten", 4_000, templates=(Template("rib", 6_000, 24),))),
    ("trim_run", Trim("batten", (Run("Rail", 9_000, 2),))),
    ("fixings", Fixings("screw", (Crossing("Wall", 22, 7),), (EdgeRow("Edge", 24_500, 3_000),), Decimal(5))),
    ("finish", Finish("paint", (Surface("Wall", 45_000, 10_000),), 2)),
    ("beads", Beads("paint", (Bead("Edge", 24_000),), 60)),
    ("pieces", Pieces((PieceLine("hinge", 8),))),
    ("setting_out", SettingOut("Lamps", 36_000, 4, 600)),
    ("manual", Manual("offcuts", (ManualLine("hinge", Decimal("1.5")),))),
]


def stored(value):
    return json.loads(json.dumps(to_json(value)))


@pytest.mark.parametrize(("key", "inputs"), ONE_OF_EACH)
def test_inputs_come_back_the_same(key, inputs):
    assert from_json(stored(inputs), registry.kind_of(key).inputs) == inputs


@pytest.mark.parametrize(("key", "inputs"), ONE_OF_EACH)
def test_results_come_back_the_same(key, inputs):
    result = registry.compute(key, stored(inputs), CATALOGUE)
    assert registry.result_from_json(json.loads(json.dumps(registry.result_to_json(result)))) == result


@pytest.mark.parametrize(("key", "inputs"), ONE_OF_EACH)
def test_every_result_shows_its_working_and_its_rule(key, inputs):
    result = registry.compute(key, stored(inputs), CATALOGUE)
    assert result.steps
    assert result.headline
    assert result.rule[-1].isdigit()


@pytest.mark.parametrize(("key", "inputs"), ONE_OF_EACH)
def test_running_distances_are_the_sum_of_those_between(key, inputs):
    result = registry.compute(key, stored(inputs), CATALOGUE)
    total = 0
    for mark in result.marks:
        total += mark.between_mm10
        assert total == mark.running_mm10
    assert result.datum or not result.marks


def test_every_kind_is_tried_here():
    assert {key for key, _ in ONE_OF_EACH} | {"ways"} == set(registry.KINDS)


@pytest.mark.parametrize("data", [{}, {"outline": 3}, {"material_key": "board", "more": 1}, {"reason": []}])
def test_what_cannot_be_read_is_refused_in_words(data):
    with pytest.raises(MeasureAgain, match="Enter it again"):
        registry.compute("cladding", data, CATALOGUE)


def test_an_unknown_kind_is_refused():
    with pytest.raises(MeasureAgain, match="not known"):
        registry.compute("plastering", {}, CATALOGUE)


def test_material_keys_are_found_however_deep():
    way = Way("Thin", "pieces", to_json(Pieces((PieceLine("hinge", 2), PieceLine("screw", 3)))))
    assert registry.material_keys(stored(Ways((way,)))) == {"hinge", "screw"}
    assert registry.material_keys({"material_key": ""}) == set()


def ways(*names, chosen=0):
    made = (Way(name, "pieces", stored(Pieces((PieceLine("hinge", 2 + n),)))) for n, name in enumerate(names))
    return Ways(tuple(made), chosen)


def test_the_way_taken_gives_the_result():
    result = registry.compute("ways", stored(ways("Two hinges", "Three hinges", chosen=1)), CATALOGUE)
    assert result.headline == "Three hinges: 3 pieces"
    assert result.steps[0].figures == "instead of Two hinges"


def test_a_way_that_cannot_be_built_stands_beside_the_rest():
    broken = Way("None", "pieces", stored(Pieces(())))
    rows = compare(Ways((*ways("Two").ways, broken)), CATALOGUE)
    assert [bool(row.result) for row in rows] == [True, False]
    assert "at least one thing" in rows[1].trouble


@pytest.mark.parametrize("inputs", [Ways(()), ways("a", chosen=3), ways("a", "b", "c", "d", "e")])
def test_ways_out_of_bounds_are_refused(inputs):
    with pytest.raises(MeasureAgain):
        registry.compute("ways", stored(inputs), CATALOGUE)
