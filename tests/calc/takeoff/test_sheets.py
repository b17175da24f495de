"""Sheet parts and linings: allowances, sizes no sheet can give, where joints fall."""

import itertools
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff import lining, plane, sheets
from materials.takeoff.cladding import Direction
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.lining import Landing, Lining
from materials.takeoff.outline import measure
from materials.takeoff.result import Grain, Operation
from materials.takeoff.sheets import Part, SheetParts
from materials.takeoff.specs import Catalogue
from tests.calc.takeoff.hand import CATALOGUE, SHEET, polygon, wall, window


def parts(*given_parts, flush=0):
    return SheetParts("sheet", given_parts, flush)


def test_parts_are_cut_over_size_by_their_allowances():
    result = sheets.take_off(parts(Part("Shelf", 8_000, 3_000, 3, scribe_mm10=100), flush=20), CATALOGUE)
    piece = result.pieces[0]
    assert (piece.length_mm10, piece.width_mm10, piece.quantity) == (8_040, 3_140, 3)


def test_mass_is_of_the_finished_part():
    result = sheets.take_off(parts(Part("Side", 10_000, 10_000), flush=20), CATALOGUE)
    assert (result.area_m2, result.mass_kg) == (Decimal(1), Decimal("6.12"))


def test_scribed_edges_are_work_by_the_metre():
    result = sheets.take_off(parts(Part("Shelf", 8_000, 3_000, 3, scribe_mm10=100)), CATALOGUE)
    assert {work.operation: work.amount for work in result.work}[Operation.SCRIBE] == Decimal("2.4")


@pytest.mark.parametrize(
    ("length", "width", "cut"),
    [(20_000, 3_000, (20_000, 3_200)), (3_000, 20_000, (3_200, 20_000)), (5_000, 5_000, (5_000, 5_200))],
)
def test_the_long_edge_is_scribed_whichever_way_the_size_is_written(length, width, cut):
    result = sheets.take_off(parts(Part("End panel", length, width, scribe_mm10=200)), CATALOGUE)
    piece = result.pieces[0]
    assert (piece.length_mm10, piece.width_mm10) == cut
    assert f"cut {cut[0] // 10} × {cut[1] // 10}" in [step.figures for step in result.steps]
    scribed = {work.operation: work.amount for work in result.work}[Operation.SCRIBE]
    assert scribed == Decimal(max(length, width)) / 10_000


@pytest.mark.parametrize(
    ("part", "words"),
    [
        (Part("Top", 25_000, 5_000), "bigger than every sheet .* or make it of two"),
        (Part("Back", 24_401, 12_200), "bigger than every sheet"),
        (Part("Door", 12_200, 20_000, grain=Grain.ALONG_LENGTH), "Its grain runs the wrong way"),
        (Part("Lid", 0, 5_000), "Lid has no size"),
        (Part("Lid", 500, 500, 0), "no number"),
    ],
)
def test_a_part_no_sheet_can_give_is_refused(part, words):
    with pytest.raises(MeasureAgain, match=words):
        sheets.take_off(parts(part), CATALOGUE)


@pytest.mark.parametrize("size", [(24_400, 12_200), (12_200, 24_400), (1, 1)])
def test_a_part_that_just_fits_is_cut(size):
    assert sheets.take_off(parts(Part("Back", *size)), CATALOGUE).pieces


def test_no_parts_is_refused():
    with pytest.raises(MeasureAgain, match="at least one part"):
        sheets.take_off(parts(), CATALOGUE)


def test_without_a_sheet_size_nothing_is_checked_and_it_is_said():
    bare = Catalogue({"sheet": replace(SHEET, stock=())})
    assert sheets.take_off(parts(Part("Top", 90_000, 90_000)), bare).cautions


def test_parts_are_drawn_in_rows_apart_from_each_other():
    made = [Part(f"P{n}", 6_000 + 500 * n, 2_000 + 300 * n) for n in range(9)]
    drawing = sheets.take_off(parts(*made), CATALOGUE).drawing
    regions = [plane.polygon(path.spots) for path in drawing.paths]
    assert not any(plane.overlap(a, b) for a, b in itertools.combinations(regions, 2))
    assert [label.text for label in drawing.labels] == [str(n) for n in range(1, 10)]
    assert 0.5 < drawing.width_mm10 / drawing.height_mm10 < 3


TRIMMED = replace(CATALOGUE, trim_mm10=50)


@pytest.mark.parametrize(
    ("size", "grain", "warned"),
    [
        ((24_300, 12_100), Grain.ANY, False),
        ((24_301, 12_100), Grain.ANY, True),
        ((12_100, 24_300), Grain.ANY, False),
        ((12_100, 24_300), Grain.ALONG_WIDTH, False),
        ((24_400, 5_000), Grain.ANY, True),
    ],
)
def test_a_part_that_needs_an_untrimmed_sheet_is_warned_of(size, grain, warned):
    part = Part("Back", *size, grain=grain)
    assert bool(sheets.take_off(parts(part), TRIMMED).cautions) is warned
    assert not sheets.take_off(parts(part), CATALOGUE).cautions


def test_panels_as_large_as_the_sheet_are_warned_of_where_its_edges_are_trimmed():
    inputs = Lining(wall(36_600, 24_400), "sheet", gap_mm10=1)
    assert lining.take_off(inputs, TRIMMED).cautions == (
        "Only an untrimmed sheet is large enough for panel 1, 2, 3: 5 mm off each edge leaves "
        "2430 × 1210 mm. Plan it with nothing trimmed off, or make it smaller.",
    )
    assert not lining.take_off(inputs, CATALOGUE).cautions
    assert not lining.take_off(replace(inputs, outline=wall(36_000, 24_000)), TRIMMED).cautions


def line(outline, **more):
    return lining.take_off(Lining(outline, "sheet", **more), CATALOGUE)


def joints(result):
    return [step.figures for step in result.steps if "joints at" in step.words]


def test_an_outline_within_a_sheet_is_one_panel():
    result = line(wall(12_200, 20_000))
    assert [(p.length_mm10, p.width_mm10, p.quantity) for p in result.pieces] == [(20_000, 12_200, 1)]


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ({}, ["1000, 2000"]),
        ({"landing": Landing.BATTEN, "pitch_mm10": 4_000}, ["1200, 2400"]),
        ({"landing": Landing.GROOVE, "pitch_mm10": 1_100}, ["1100, 2200"]),
        ({"landing": Landing.HIDDEN, "hidden_mm10": (19_000, 8_000)}, ["800, 1900"]),
        ({"direction": Direction.LEVEL}, ["1500"]),
    ],
)
def test_where_joints_fall_on_a_wall_of_3_m(more, expected):
    found = joints(line(wall(30_000, 12_000), **more))
    if more.get("landing") in (Landing.BATTEN, Landing.GROOVE):
        step = more["pitch_mm10"]
        places = [int(place) * 10 for place in found[0].split(", ")]
        assert len(places) == 2
        assert all(place % step == 0 for place in places)
    else:
        assert found == expected


@pytest.mark.parametrize(
    ("landing", "across", "level"),
    [  # grooves run up the wall and hide no joint that lies level; nor do upright fittings
        ({"landing": Landing.GROOVE, "pitch_mm10": 1_100}, "on a groove", "so that panels are equal"),
        (
            {"landing": Landing.HIDDEN, "hidden_mm10": (8_000, 19_000)},
            "where a fitting hides it",
            "so that panels are equal",
        ),
        ({"landing": Landing.BATTEN, "pitch_mm10": 4_000}, "on a batten", "on a batten"),
    ],
)
def test_each_way_of_joints_says_on_what_it_falls(landing, across, level):
    said = [step.rule for step in line(wall(30_000, 30_000), **landing).steps if "joints at" in step.words]
    assert said == [f"falling {across}", f"falling {level}"]


def test_flush_and_gap_change_the_size_of_a_panel():
    result = line(wall(20_000, 12_000), flush_mm10=30, gap_mm10=30)
    assert [(p.length_mm10, p.width_mm10) for p in result.pieces] == [(12_060, 10_045)]


def cut_sizes(outline):
    """Across × up of each panel, 3 mm between sheets; cuts fall where panels meet and nowhere else."""
    result = line(outline, gap_mm10=30)
    return sorted((p.width_mm10, p.length_mm10) for p in result.pieces for _ in range(p.quantity))


def test_beside_a_door_and_under_a_slope_nothing_is_given_up_for_the_gap():
    assert cut_sizes(wall(12_000, 20_000, window(4_000, 0, 3_000, 20_000))) == [
        (4_000, 20_000),
        (5_000, 20_000),
    ]
    gable = polygon((0, 0), (24_000, 0), (24_000, 18_000), (12_000, 24_000), (0, 18_000))
    assert cut_sizes(gable) == [(11_985, 24_000), (11_985, 24_000)]
    wide_gable = polygon((0, 0), (36_000, 0), (36_000, 16_000), (18_000, 24_000), (0, 16_000))
    assert cut_sizes(wide_gable) == [(11_970, 24_000), (11_985, 21_334), (11_985, 21_334)]


def test_a_joint_that_ends_at_an_opening_is_none_there():
    """A door right of the joint: what is over it meets the left panel; beside a higher one nothing does."""
    assert cut_sizes(wall(24_000, 20_000, window(12_000, 0, 8_000, 20_000))) == [
        (4_000, 20_000),
        (12_000, 20_000),
    ]
    assert cut_sizes(wall(24_000, 20_000, window(12_000, 0, 8_000, 15_000))) == [
        (11_985, 20_000),
        (11_985, 20_000),
    ]


@given(st.integers(12_300, 60_000), st.integers(2_500, 40_000), st.integers(0, 60))
def test_panels_of_a_plain_wall_and_the_gaps_between_them_are_the_wall(width, height, gap):
    result = line(wall(width, height), gap_mm10=gap)
    columns, rows = (len(found.split(", ")) + 1 if found else 1 for found in places_of(result))
    wide = sum(p.width_mm10 * p.quantity for p in result.pieces)
    high = sum(p.length_mm10 * p.quantity for p in result.pieces)
    given_up = 2 * (gap // 2)
    assert wide == rows * (width - (columns - 1) * given_up)
    assert high == columns * (height - (rows - 1) * given_up)


def places_of(result):
    said = {step.words: step.figures for step in result.steps}
    return said.get("Upright joints at", ""), said.get("Level joints at", "")


@pytest.mark.parametrize(
    ("more", "field", "words"),
    [
        ({"landing": Landing.BATTEN}, "pitch", "How far apart"),
        ({"landing": Landing.BATTEN, "pitch_mm10": 13_000}, "pitch", "No batten lies within"),
        ({"landing": Landing.GROOVE, "pitch_mm10": 1}, "pitch", "so close"),
        ({"landing": Landing.HIDDEN}, "hidden", "Where will a fitting hide"),
        ({"landing": Landing.HIDDEN, "hidden_mm10": (2_000,)}, "hidden", "No hidden place"),
        ({"flush_mm10": 6_000}, "flush", "leaves no sheet"),
    ],
)
def test_joints_that_cannot_fall_there_are_refused(more, field, words):
    with pytest.raises(MeasureAgain, match=words) as caught:
        line(wall(30_000, 12_000), **more)
    assert caught.value.field == field


def drawn(result, stroke):
    return [path for path in result.drawing.paths if path.stroke == stroke]


GROOVED = {"landing": Landing.GROOVE, "pitch_mm10": 1_000, "first_mm10": 500}


def test_grooves_are_drawn_the_way_of_the_sheet_and_stop_at_an_opening():
    result = line(wall(30_000, 12_000, window(2_000, 2_000, 3_000, 3_000)), **GROOVED)
    grooves = drawn(result, "groove")
    assert {path.spots[0][0] for path in grooves} == set(range(500, 30_000, 1_000))
    over = [path.spots for path in grooves if path.spots[0][0] == 2_500]
    assert over == [((2_500, 0), (2_500, 2_000)), ((2_500, 5_000), (2_500, 12_000))]


def test_side_by_side_every_joint_is_on_a_groove():
    result = line(wall(30_000, 12_000), **GROOVED)
    edges = {x for path in drawn(result, "board") for x, _ in path.spots} - {0, 30_000}
    grooves = {path.spots[0][0] for path in drawn(result, "groove")}
    assert edges
    assert edges <= grooves
    assert not any(piece.family for piece in result.pieces)


def test_end_to_end_the_panels_of_a_column_are_one_family():
    result = line(wall(20_000, 30_000), **GROOVED)
    assert sorted({piece.family for piece in result.pieces}) == ["column 1", "column 2"]
    assert all(piece.length_mm10 == 15_000 for piece in result.pieces)
    assert "one family" in " ".join(step.rule for step in result.steps)


def test_laid_level_the_grooves_run_level():
    result = line(wall(30_000, 20_000), direction=Direction.LEVEL, **GROOVED)
    assert all(low[1] == high[1] for low, high in (path.spots for path in drawn(result, "groove")))
    assert {piece.family for piece in result.pieces} == {"row 1", "row 2"}


def test_battens_that_a_joint_falls_on_are_drawn():
    assert drawn(line(wall(30_000, 12_000), landing=Landing.BATTEN, pitch_mm10=4_000), "batten")
    assert not drawn(line(wall(30_000, 12_000)), "batten")


def test_parts_that_run_on_say_so_to_the_cutting_plan():
    result = sheets.take_off(parts(Part("Drawer face", 6_000, 2_000, 3, runs_on="drawers")), CATALOGUE)
    assert result.pieces[0].family == "drawers"


@given(
    st.integers(2_500, 60_000),
    st.integers(2_500, 40_000),
    st.sampled_from(Direction),
    st.integers(0, 40),
    st.booleans(),
)
def test_panels_cover_the_outline_once_and_come_out_of_a_sheet(width, height, direction, flush, opening):
    outline = wall(width, height, *([window(500, 500, 1_500, 1_500)] if opening else []))
    inputs = Lining(outline, "sheet", direction, flush_mm10=flush)
    result = lining.take_off(inputs, CATALOGUE)
    assert all(piece.length_mm10 <= 24_400 and piece.width_mm10 <= 12_200 for piece in result.pieces)
    net = measure(outline, CATALOGUE).net
    boards = [path for path in result.drawing.paths if path.stroke == "board"]
    rings = [plane.polygon(path.spots) for path in boards]
    outer = [
        ring for ring in rings if not any(ring is not other and plane.holds(other, ring) for other in rings)
    ]
    inner = [ring for ring in rings if ring not in outer]
    covered = sum(map(plane.area, outer)) - sum(map(plane.area, inner))
    assert covered == pytest.approx(plane.area(net), rel=1e-4)
