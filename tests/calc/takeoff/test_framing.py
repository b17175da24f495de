"""Members at centres, between plates, round openings; noggins and templates."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff import plane
from materials.takeoff.cladding import Direction
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.framing import Framing, Packing, Template, edge_count, member_places, take_off
from tests.calc.takeoff.hand import CATALOGUE, polygon, wall, window


def frame(outline=None, centres=4_000, **more):
    return take_off(Framing(outline or wall(), "batten", centres, **more), CATALOGUE)


def found(result):
    return {(piece.label, piece.length_mm10): piece.quantity for piece in result.pieces}


def test_members_at_centres():
    assert found(frame()) == {("member", 18_000): 7}


@pytest.mark.parametrize(("direction", "run"), [(Direction.UPRIGHT, 24_000), (Direction.LEVEL, 18_000)])
def test_marks_are_the_middles_of_the_members_at_centres_from_the_first(direction, run):
    marks = frame(direction=direction).marks
    middles = [mark.running_mm10 for mark in marks]
    assert [mark.name for mark in marks] == [f"member {at}, middle" for at in range(1, len(marks) + 1)]
    assert (middles[0], middles[-1]) == (190, run - 190)  # both flush with an end; a batten is 38 mm
    assert {after - before for before, after in itertools.pairwise(middles[:-1])} == {4_000}


def test_level_members_run_across():
    assert found(frame(direction=Direction.LEVEL)) == {("member", 24_000): 6}


def test_plates_shorten_the_members():
    assert found(frame(plates=True)) == {
        ("first plate", 24_000): 1,
        ("last plate", 24_000): 1,
        ("member", 17_240): 7,
    }


def test_noggins_fill_between_members():
    pieces = found(frame(noggin_rows=2))
    noggins = {length: count for (label, length), count in pieces.items() if label == "noggin"}
    assert sum(noggins.values()) == 12
    assert sum(length * count for length, count in noggins.items()) == 2 * (24_000 - 7 * 380)


def test_openings_are_framed():
    pieces = found(frame(wall(24_000, 18_000, window(left=9_000)), frame_openings=True))
    assert pieces["Window head or sill", 6_760] == 2
    assert pieces["Window side", 5_000] == 2


def sides(right_edge, **more):
    """The sides of a window that ends there, in a wall with members every 400 mm, 38 mm wide."""
    opening = window(left=right_edge - 5_000, bottom=5_000, width=5_000, height=6_000)
    return {
        label: count
        for (label, _), count in found(frame(wall(24_000, 18_000, opening), frame_openings=True)).items()
        if "side" in label
    }


@pytest.mark.parametrize(
    ("right_edge", "expected"),
    [
        (11_800, {"Window side": 1, "Window side, ripped": 1}),  # 20 mm short of the member at 1200
        (12_000, {"Window side": 1}),  # the member at 1200 is the side
        (12_200, {"Window side": 2}),  # 18 mm of the member are left: the side takes its place
        (11_960, {"Window side": 1}),  # 4 mm short of the member: near enough
        (11_620, {"Window side": 2}),  # the side just fits in before the member
    ],
)
def test_a_member_that_overlaps_leaves_no_edge_of_an_opening_open(right_edge, expected):
    assert sides(right_edge) == expected


def whole_mm(least, most):
    return st.integers(least, most).map(lambda mm: 10 * mm)


@given(
    whole_mm(0, 1_900), whole_mm(38, 900), whole_mm(40, 500), whole_mm(40, 600), st.sampled_from(Direction)
)
def test_every_edge_of_a_framed_opening_has_timber_and_none_lies_over_another(
    left, bottom, width, height, direction
):
    outline = wall(24_000, 18_000, window(left, bottom, width, height))
    result = frame(outline, direction=direction, frame_openings=True)
    timber = [plane.polygon(path.spots) for path in result.drawing.paths if path.stroke == "member"]
    assert not any(plane.overlap(a, b) for a, b in itertools.combinations(timber, 2))
    right, top = left + width, bottom + height
    far, near = (
        plane.box(max(left - by, 0), bottom - by, min(right + by, 24_000), top + by) for by in (60, 50)
    )
    assert plane.area(plane.less(far, [near, *timber])) < 1


def test_ribs_under_a_slope_are_cut_to_their_longest_point():
    outline = polygon((0, 0), (20_000, 0), (20_000, 10_000), (0, 20_000))
    lengths = [length for _, length in found(frame(outline))]
    assert max(lengths) == 20_000
    assert min(lengths) == 10_190


def test_templates_are_cut_alike():
    result = frame(templates=(Template("rib", 6_000, 24),))
    assert found(result)["like rib", 6_000] == 24
    assert any(step.words == "Cut 24 like rib" for step in result.steps)


def test_templates_written_twice_add_up():
    result = frame(templates=(Template("rib", 9_000, 24), Template("rib", 9_000, 12)))
    assert found(result)["like rib", 9_000] == 36


def test_packing_pieces_go_behind_every_member():
    """7 members of 1800 mm, packed every 600 mm and at both ends: 4 each."""
    result = frame(packings=(Packing("board", 1_000, 6_000),))
    (packing,) = [piece for piece in result.pieces if piece.label == "packing"]
    members = sum(piece.quantity for piece in result.pieces if piece.label == "member")
    assert (packing.material_key, packing.length_mm10, packing.quantity) == ("board", 1_000, 4 * members)
    assert result.mass_kg > frame().mass_kg


def test_members_longer_than_stock_are_warned_of():
    assert any("longer than any stock" in caution for caution in frame(wall(24_000, 40_000)).cautions)


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"centres": 0}, "centres"),
        ({"centres": 759}, "centres"),
        ({"noggin_rows": -1}, "noggin_rows"),
        ({"templates": (Template("rib", 0, 4),)}, "templates"),
        ({"packings": (Packing("board", 1_000, 0),)}, "packings"),
        ({"packings": (Packing("board", 1_000, 1),)}, "packings"),
        ({"outline": wall(9_000_000, 18_000)}, "centres"),
    ],
)
def test_what_cannot_be_framed_is_refused(more, field):
    with pytest.raises(MeasureAgain) as caught:
        frame(**more)
    assert caught.value.field == field


@given(st.integers(381, 60_000), st.integers(760, 9_000))
def test_members_stand_no_further_apart_than_asked_and_at_both_ends(run, centres):
    places = member_places(run, centres, 380)
    assert places[0] == 0
    assert places[-1] == max(run - 380, 0) or len(places) == 1
    gaps = [b - a for a, b in itertools.pairwise(places)]
    assert all(380 <= gap <= centres for gap in gaps) or len(places) <= 2


@given(st.integers(1, 100_000), st.integers(1, 5_000))
def test_fixings_along_an_edge_are_never_further_apart_than_asked(run, centres):
    spaces = edge_count(run, centres) - 1
    assert (spaces - 1) * centres < run <= spaces * centres
