"""Cladding: the boards cover the outline once, are within stock, and the working says so."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff import plane
from materials.takeoff.boards import number_ranges
from materials.takeoff.cladding import (
    Cladding,
    Direction,
    Fitting,
    lay_out,
    take_off,
)
from materials.takeoff.courses import Start
from materials.takeoff.end_joints import EndJoint
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.outline import Outline
from materials.takeoff.result import Operation
from materials.takeoff.shapes import ArcTop
from materials.takeoff.specs import Catalogue, StockSize
from materials.takeoff.starts import compare_starts
from tests.calc.takeoff.hand import BOARD, CATALOGUE, SHEET, polygon, wall, window


def clad(outline=None, **more):
    return Cladding(outline or wall(), "board", **more)


def cut_m(result):
    return sum(Decimal(piece.length_mm10) / 10_000 * piece.quantity for piece in result.pieces)


def test_a_plain_wall():
    result = take_off(clad(), CATALOGUE)
    assert [(p.length_mm10, p.width_mm10, p.quantity) for p in result.pieces] == [
        (24_000, 0, 16),
        (24_000, 80, 1),
    ]
    assert result.mass_kg == Decimal("28.512")
    assert any("only 8 mm, under half a board" in caution for caution in result.cautions)


def test_upright_boards_run_up_the_wall():
    result = take_off(clad(direction=Direction.UPRIGHT), CATALOGUE)
    assert {piece.length_mm10 for piece in result.pieces} == {18_000}
    assert sum(piece.quantity for piece in result.pieces) == 22


def test_a_window_parts_the_courses_it_crosses_and_notches_those_it_touches():
    result = take_off(clad(wall(24_000, 18_000, window())), CATALOGUE)
    parted = [piece for piece in result.pieces if piece.length_mm10 in (8_000, 10_000)]
    notched = [piece for piece in result.pieces if "cut to shape" in piece.label]
    assert [piece.quantity for piece in parted] == [3, 3]
    assert sum(piece.quantity for piece in notched) == 2


def test_a_run_longer_than_stock_is_joined():
    laid = lay_out(clad(wall(45_000), batten_spacing_mm10=6_000), CATALOGUE)
    assert laid.boards.joints
    assert all(place % 6_000 == 0 for _, place in laid.boards.joints)
    assert laid.boards.unstaggered == ()


def test_a_scarf_takes_the_thickness_more():
    butt = take_off(clad(wall(45_000)), CATALOGUE)
    scarf = take_off(clad(wall(45_000), end_joint=EndJoint.SCARF), CATALOGUE)
    joints = next(work.amount for work in scarf.work if work.operation is Operation.END_JOINT)
    assert cut_m(scarf) - cut_m(butt) == joints * Decimal("0.012")


def test_strips_beside_a_slot_that_runs_out_at_a_joint_are_one_board():
    """A slot of 2 mm, 600 mm in from the left end: the board before a joint at 300 mm is ripped, not two."""
    slot = window(left=0, bottom=500, width=6_000, height=20)
    laid = lay_out(clad(wall(26_700, 1_120, slot)), in_lengths_of(24_000))
    plain = lay_out(clad(wall(26_700, 1_120)), in_lengths_of(24_000))
    assert laid.boards.joints == plain.boards.joints == ((1, 3_000),)
    sizes = [(board.length_mm10, board.width_mm10) for board in laid.boards.boards]
    assert sizes == [(3_000, 0), (23_700, 0)]


def in_lengths_of(length):
    return Catalogue({"board": replace(BOARD, stock=(StockSize(length),))})


STOCKED = in_lengths_of(24_000)


def one_course(width, end_joint, catalogue=STOCKED):
    """The lengths of the boards of one course over that width."""
    result = take_off(clad(wall(width, 1_120), end_joint=end_joint), catalogue)
    return sorted((p.length_mm10 for p in result.pieces for _ in range(p.quantity)), reverse=True)


@pytest.mark.parametrize(
    ("width", "expected"),
    [(24_000, [24_000]), (47_700, [24_000, 23_820]), (47_880, [24_000, 24_000])],
)
def test_scarfed_boards_are_joined_no_more_than_they_must(width, expected):
    """Boards of 2400 mm, 12 mm thick: two cover 2 × 2400 − 12 = 4788 mm."""
    assert one_course(width, EndJoint.SCARF) == expected
    assert one_course(width, EndJoint.SCARF, Catalogue({"board": replace(BOARD, stock=())})) == [width]


def test_where_joints_every_50_mm_are_too_coarse_whole_boards_serve():
    assert one_course(48_500, EndJoint.BUTT, in_lengths_of(24_400)) == [24_400, 24_100]


@given(st.integers(500, 240_000), st.sampled_from(EndJoint))
def test_so_many_boards_cover_their_length_less_a_scarf_each(width, end_joint):
    scarf = BOARD.thickness_mm10 if end_joint is EndJoint.SCARF else 0
    boards = one_course(width, end_joint)
    assert len(boards) == max(1, -(-(width - scarf) // (24_000 - scarf)))
    assert sum(boards) == width + (len(boards) - 1) * scarf
    assert boards[0] <= 24_000
    assert len(boards) == 1 or boards[-1] >= 3_000


def test_nothing_is_cut_longer_than_stock():
    result = take_off(clad(wall(91_000), end_joint=EndJoint.SCARF), CATALOGUE)
    assert max(piece.length_mm10 for piece in result.pieces) <= BOARD.longest_mm10


@pytest.mark.parametrize(
    ("bottom", "warned"),
    [(5_600, False), (5_601, True), (5_749, True), (5_750, False), (6_719, False)],
    ids=["on the joint", "a tenth over", "just under 15 mm", "15 mm", "just under a board"],
)
def test_a_weak_strip_under_an_opening_is_warned_of(bottom, warned):
    result = take_off(
        clad(wall(24_000, 18_000, window(bottom=bottom, height=6_720 + 5_600 - bottom))), CATALOGUE
    )
    assert any("Course 6 keeps only" in caution for caution in result.cautions) is warned


@pytest.mark.parametrize(
    ("up", "words"),
    [
        (560, "sits on the centre line of course 1"),
        (1_700, "falls on course 2; move it 2 mm down"),
        (1_660, "falls on course 2; move it 2 mm up"),
        (90_000, "lies off the boards"),
    ],
)
def test_a_lamp_is_told_its_course(up, words):
    steps = take_off(clad(fittings=(Fitting("Lamp", 5_000, up),)), CATALOGUE).steps
    assert any(words in step.words for step in steps)


def test_the_starts_stand_side_by_side():
    rows = compare_starts(clad(least_rip_mm10=400), CATALOGUE)
    assert [row.start for row in rows] == list(Start)
    assert len({row.mass_kg for row in rows}) == 1
    assert {min(row.first_mm10, row.last_mm10) >= 400 for row in rows} == {True}


def test_an_arched_end_is_covered():
    outline = Outline(ArcTop(24_000, 3_000, 18_000), (window(2_000, 0, 8_000, 17_000, name="Door"),))
    result = take_off(clad(outline, direction=Direction.UPRIGHT, start=Start.BOARD_CENTRED), CATALOGUE)
    assert max(piece.length_mm10 for piece in result.pieces) == 21_000
    assert result.drawing.height_mm10 == 21_000


@pytest.mark.parametrize(
    ("inputs", "field", "words"),
    [
        (clad(least_rip_mm10=1_300), "least_rip", "wider than a whole board"),
        (replace(clad(), material_key="gone"), "material_key", "Choose a material"),
        (replace(clad(), material_key="sheet"), "material_key", "no cover width"),
        (clad(wall(90_000), batten_spacing_mm10=40_000), "batten_spacing", "batten to batten"),
    ],
)
def test_what_cannot_be_built_says_what_to_measure_again(inputs, field, words):
    with pytest.raises(MeasureAgain, match=words) as caught:
        take_off(inputs, CATALOGUE)
    assert caught.value.field == field


def test_without_stock_lengths_boards_are_whole_and_it_is_said():
    bare = Catalogue({"board": replace(BOARD, stock=())})
    result = take_off(clad(wall(90_000)), bare)
    assert {piece.length_mm10 for piece in result.pieces} == {90_000}
    assert any("no stock length" in caution for caution in result.cautions)


def test_number_ranges():
    assert number_ranges([3, 1, 2, 2, 9]) == "1–3, 9"


walls = st.builds(
    lambda width, height, left, bottom, wide, high, clearance: wall(
        width, height, window(min(left, width - wide), min(bottom, height - high), wide, high, clearance)
    ),
    st.integers(9_000, 70_000),
    st.integers(9_000, 30_000),
    st.integers(0, 60_000),
    st.integers(0, 25_000),
    st.integers(500, 8_500),
    st.integers(500, 8_500),
    st.integers(0, 200),
)
gables = st.builds(
    lambda width, eaves, rise: polygon(
        (0, 0), (width, 0), (width, eaves), (width // 2, eaves + rise), (0, eaves)
    ),
    st.integers(9_000, 50_000),
    st.integers(3_000, 20_000),
    st.integers(500, 9_000),
)
layouts = st.builds(
    Cladding,
    st.one_of(walls, gables),
    st.just("board"),
    st.sampled_from(Direction),
    st.sampled_from(Start),
    st.integers(0, 560),
    st.sampled_from(EndJoint),
    st.sampled_from([0, 4_000, 6_000]),
)


@given(layouts)
def test_boards_cover_the_outline_exactly_once(inputs):
    laid = lay_out(inputs, CATALOGUE)
    regions = [board.region for board in laid.boards.boards]
    upright = inputs.direction is Direction.UPRIGHT
    net = plane.turned(laid.measured.net) if upright else laid.measured.net
    covered = sum(plane.area(region) for region in regions)
    assert covered == pytest.approx(plane.area(net), rel=1e-6, abs=2e5)
    assert plane.area(plane.less(net, regions)) <= 2e5
    assert covered - (plane.area(net) - plane.area(plane.less(net, regions))) <= 2e5


@given(layouts)
def test_every_board_holds_its_region_and_comes_out_of_stock(inputs):
    laid = lay_out(inputs, CATALOGUE)
    for board in laid.boards.boards:
        box = plane.bounds(board.region)
        assert box.width <= board.length_mm10 <= BOARD.longest_mm10
        assert box.height <= (board.width_mm10 or BOARD.cover_mm10)


@given(layouts, st.integers(2, 5))
def test_mass_is_linear_in_thickness(inputs, times):
    thick = Catalogue({"board": replace(BOARD, thickness_mm10=BOARD.thickness_mm10 * times)})
    once, more = (
        take_off(inputs, CATALOGUE).mass_kg,
        take_off(replace(inputs, end_joint=EndJoint.BUTT), thick).mass_kg,
    )
    assert more == pytest.approx(once * times, abs=Decimal("0.003"))


@given(layouts)
def test_pieces_are_the_boards(inputs):
    laid = lay_out(inputs, CATALOGUE)
    result = take_off(inputs, CATALOGUE)
    assert sum(piece.quantity for piece in result.pieces) == len(laid.boards.boards)
    assert cut_m(result) * Decimal("0.112") >= result.area_m2 - Decimal("0.002")


def test_a_sheet_is_no_board():
    with pytest.raises(MeasureAgain):
        take_off(clad(), Catalogue({"board": SHEET}))
