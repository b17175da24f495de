"""A sheet that its parts fill is found where there is one, and never where there is none."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting.blocks import counts_of
from materials.cutting.check_panels import faults_of_plan
from materials.cutting.gapless import gapless_layout
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.widened import widen

from .sheet_problems import one_size

# Cut at random from one 200 × 200 without waste; by construction one sheet does. Searches that put parts into
# gaps miss it for seconds.
FIVE_SIZES = [
    (67, 27, 4, True),
    (65, 23, 8, True),
    (63, 27, 4, True),
    (60, 25, 8, True),
    (10, 100, 2, True),
]


@st.composite
def sheets_cut_up(draw):
    """A sheet cut edge to edge without waste into at most nine parts, and the kerf it was cut with."""
    kerf = draw(st.sampled_from([0, 1, 3]))
    width, height = draw(st.integers(40, 200)), draw(st.integers(40, 200))
    parts = [(width, height)]
    for _ in range(draw(st.integers(0, 8))):
        at = draw(st.integers(0, len(parts) - 1))
        w, h = parts.pop(at)
        across = draw(st.booleans())
        length = w if across else h
        if length < 2 + kerf:
            parts.append((w, h))
            continue
        cut = draw(st.integers(1, length - kerf - 1))
        rest = length - kerf - cut
        parts += [(cut, h), (rest, h)] if across else [(w, cut), (w, rest)]
    return width, height, kerf, parts


def problem_of(width, height, kerf, parts, may_turn=False):
    wanted = [(w, h, quantity, may_turn) for (w, h), quantity in Counter(parts).items()]
    return one_size(width, height, wanted, kerf_mm10=kerf * 10)


@given(sheets_cut_up(), st.booleans())
@settings(max_examples=150, deadline=None)
def test_a_sheet_that_was_cut_up_is_put_together_again(cut_up, may_turn):
    problem = problem_of(*cut_up, may_turn=may_turn)
    widened = widen(problem)
    layout = gapless_layout(widened)
    assert layout is not None
    assert counts_of(layout[0].block) == {i: shape.quantity for i, shape in enumerate(widened.shapes)}
    plan = solve_panels(problem, Search(seconds=0.05))
    if plan.sheet_count > 1:  # something else had the machine
        plan = solve_panels(problem, Search(seconds=10))
    assert faults_of_plan(plan) == []
    assert plan.sheet_count == 1


def test_five_sizes_of_which_one_sheet_is_full():
    layout = gapless_layout(widen(one_size(200, 200, FIVE_SIZES)))
    assert layout is not None
    assert sum(counts_of(layout[0].block).values()) == 26


def test_the_pinwheel_fills_its_sheet_but_no_saw_frees_it():
    pinwheel = [(20, 10, 2, False), (10, 20, 2, False), (10, 10, 1, False)]
    assert gapless_layout(widen(one_size(30, 30, pinwheel))) is None


def test_parts_of_less_area_than_the_sheet_are_left_to_other_searches():
    assert gapless_layout(widen(one_size(30, 30, [(10, 10, 8, False)]))) is None


def test_it_stops_when_told():
    assert gapless_layout(widen(one_size(200, 200, FIVE_SIZES)), lambda: True) is None
