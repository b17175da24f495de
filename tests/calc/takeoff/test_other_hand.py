"""Made to the other hand: the same pieces, and everything that was measured from the left from the right."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff import plane
from materials.takeoff.cladding import Cladding, Direction, Fitting, lay_out, start_as_made
from materials.takeoff.courses import Start
from materials.takeoff.end_joints import EndJoint
from materials.takeoff.framing import Framing
from materials.takeoff.lining import Landing, Lining
from materials.takeoff.registry import KINDS
from tests.calc.takeoff.hand import CATALOGUE, wall, window


def taken_off(kind, inputs, *, other_hand=False):
    outline = replace(inputs.outline, other_hand=other_hand)
    return KINDS[kind].compute(replace(inputs, outline=outline), CATALOGUE)


def cut_list(result):
    found = Counter()
    for piece in result.pieces:
        found[piece.length_mm10, piece.width_mm10, piece.grain] += piece.quantity
    return found


def joints(result):
    return [mark.running_mm10 for mark in result.marks]


def said(result):
    return [step.words for step in result.steps]


def test_a_hidden_joint_lies_as_far_from_the_right():
    inputs = Lining(wall(20_000), "sheet", landing=Landing.HIDDEN, hidden_mm10=(9_000,))
    assert joints(taken_off("lining", inputs)) == [9_000]
    assert joints(taken_off("lining", inputs, other_hand=True)) == [11_000]


def test_grooves_and_battens_start_from_the_right():
    grooved = {"landing": Landing.GROOVE, "pitch_mm10": 1_100, "first_mm10": 500}
    result = taken_off("lining", Lining(wall(20_000, 12_000), "sheet", **grooved), other_hand=True)
    assert [(20_000 - joint - 500) % 1_100 for joint in joints(result)] == [0]
    (step,) = [step for step in result.steps if step.words.startswith("Grooves line up")]
    first = (20_000 - 500) % 1_100
    assert step.figures.endswith(f"{first // 10} mm")
    landed = {"landing": Landing.BATTEN, "pitch_mm10": 4_000, "first_mm10": 1_000}
    result = taken_off("lining", Lining(wall(20_000, 12_000), "sheet", **landed), other_hand=True)
    battens = {path.spots[0][0] for path in result.drawing.paths if path.stroke == "batten"}
    assert battens == {19_000, 15_000, 11_000, 7_000, 3_000}


def test_a_fitting_lies_as_far_from_the_right():
    hook = Fitting("Hook", 3_000, 15_000)
    inputs = Cladding(wall(20_000, 20_000), "board", Direction.UPRIGHT, fittings=(hook,))
    assert "Hook falls on course 3; move it 20 mm left to the board's centre line" in said(
        taken_off("cladding", inputs)
    )
    assert "Hook falls on course 16; move it 20 mm right to the board's centre line" in said(
        taken_off("cladding", inputs, other_hand=True)
    )


@pytest.mark.parametrize(
    ("direction", "start", "words"),
    [
        (Direction.UPRIGHT, Start.FIRST_EDGE, "a whole board at the right"),
        (Direction.UPRIGHT, Start.LAST_EDGE, "a whole board at the left"),
        (Direction.UPRIGHT, Start.JOINT_CENTRED, "a joint on the centre line"),
        (Direction.LEVEL, Start.FIRST_EDGE, "a whole board at the bottom"),
    ],
)
def test_upright_boards_start_from_the_other_edge(direction, start, words):
    inputs = Cladding(wall(20_000, 20_000, other_hand=True), "board", direction, start)
    laid = lay_out(inputs, CATALOGUE)
    assert laid.inputs.start is start_as_made(inputs, start)
    assert any(words in each for each in said(taken_off("cladding", inputs, other_hand=True)))
    if words.endswith("right"):
        assert (laid.layout.first_mm10, laid.layout.last_mm10) == (20_000 - 17 * 1_120, 1_120)


def test_members_stand_at_centres_from_the_right():
    inputs = Framing(wall(20_000), "batten", 6_000)
    assert joints(taken_off("framing", inputs)) == [190, 6_190, 12_190, 18_190, 19_810]
    assert joints(taken_off("framing", inputs, other_hand=True)) == [190, 1_810, 7_810, 13_810, 19_810]


windowed = st.builds(
    lambda width, height, left, bottom: wall(
        width, height, window(left % (width - 3_000), bottom % (height - 3_000), 3_000, 3_000)
    ),
    st.integers(4_000, 60_000),
    st.integers(4_000, 40_000),
    st.integers(0, 60_000),
    st.integers(0, 40_000),
)
made = st.one_of(
    st.builds(
        Cladding,
        windowed,
        st.just("board"),
        st.sampled_from(Direction),
        st.sampled_from(Start),
        st.sampled_from([0, 400]),
        st.sampled_from(EndJoint),
        st.sampled_from([0, 4_000]),
    ),
    st.builds(
        Lining,
        windowed,
        st.just("sheet"),
        st.sampled_from(Direction),
        st.sampled_from([Landing.ANYWHERE, Landing.BATTEN, Landing.GROOVE]),
        st.just(1_000),
        st.sampled_from([0, 300]),
    ),
    st.builds(
        Framing,
        windowed,
        st.just("batten"),
        st.sampled_from([4_000, 6_000]),
        st.sampled_from(Direction),
        plates=st.booleans(),
        frame_openings=st.booleans(),
    ),
)


@given(made)
def test_the_other_hand_is_cut_of_the_same_pieces_and_lies_mirrored(inputs):
    kind = type(inputs).__name__.lower()
    one, other = taken_off(kind, inputs), taken_off(kind, inputs, other_hand=True)
    assert cut_list(one) == cut_list(other)
    assert one.mass_kg == other.mass_kg
    width = one.drawing.width_mm10
    assert other.centre_mm10[0] == pytest.approx(width - one.centre_mm10[0], abs=1)


@given(made.filter(lambda inputs: isinstance(inputs, Cladding)))
def test_boards_on_the_other_hand_cover_what_there_is(inputs):
    laid = lay_out(replace(inputs, outline=replace(inputs.outline, other_hand=True)), CATALOGUE)
    upright = inputs.direction is Direction.UPRIGHT
    net = plane.turned(laid.measured.net) if upright else laid.measured.net
    regions = [board.region for board in laid.boards.boards]
    assert plane.area(plane.less(net, regions)) <= 2e5
    assert sum(map(plane.area, regions)) == pytest.approx(plane.area(net), rel=1e-6, abs=2e5)
    lines = laid.layout.lines_mm10
    for board in laid.boards.boards:
        box = plane.bounds(board.region)
        assert lines[board.course - 1] <= box.bottom <= box.top <= lines[board.course]
