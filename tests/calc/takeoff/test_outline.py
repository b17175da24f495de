"""Outlines with openings: net areas, the other hand, and what does not fit."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff import plane
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.outline import Outline, measure
from materials.takeoff.shapes import ArcTop, AreaRule, OffsetTable, Station
from tests.calc.takeoff.hand import CATALOGUE, polygon, wall, window


def measured(outline):
    return measure(outline, CATALOGUE)


@pytest.mark.parametrize(
    ("outline", "gross", "net"),
    [
        (wall(), "4.32", "4.32"),
        (wall(24_000, 18_000, window()), "4.32", "4.02"),
        (wall(24_000, 18_000, window(clearance=100)), "4.32", "3.9976"),
        (wall(24_000, 18_000, window(bottom=0, clearance=100)), "4.32", "4.0038"),
        (polygon((0, 0), (20_000, 0), (20_000, 10_000), (10_000, 20_000), (0, 10_000)), "3", "3"),
        (Outline(ArcTop(24_000, 3_000)), "0.48594751", "0.48594751"),
    ],
    ids=["plain", "window", "clearance all round", "door to the floor", "gable", "arc"],
)
def test_areas(outline, gross, net):
    found = measured(outline)
    assert (found.gross_m2, found.net_m2) == (Decimal(gross), Decimal(net))


def test_the_rule_is_named():
    table = OffsetTable((Station(0, 3), Station(1_000, 5), Station(2_000, 4)), AreaRule.SIMPSON)
    assert [step.rule for step in measured(Outline(table)).steps] == ["Simpson's rule"]


def test_perimeter():
    assert measured(wall()).perimeter_mm10 == 84_000


def test_a_round_opening_takes_a_circle():
    found = measured(wall(24_000, 18_000, window(width=4_000, height=4_000, is_round=True)))
    taken = found.gross_m2 - found.net_m2
    assert taken == pytest.approx(Decimal("0.125664"), abs=Decimal("0.0003"))
    assert taken >= Decimal("0.125663")


def test_the_other_hand_turns_left_for_right():
    opening = window(left=2_000)
    _, hole = measured(wall(24_000, 18_000, opening, other_hand=True)).cut_outs[0]
    assert plane.bounds(hole).right == 22_000


def test_the_other_hand_has_the_same_area():
    shape = polygon((0, 0), (20_000, 0), (15_000, 9_000))
    assert measured(shape).net_m2 == measured(Outline(shape.shape, (), other_hand=True)).net_m2


@pytest.mark.parametrize(
    ("outline", "words"),
    [
        (polygon((0, 0), (100, 100), (100, 0), (0, 100)), "crosses itself: side 1 .* meets side 3"),
        (wall(24_000, 18_000, window(left=20_000)), "Window lies partly outside"),
        (wall(24_000, 18_000, window(left=-10)), "Window lies partly outside"),
        (wall(24_000, 18_000, window(width=30_000)), "Window lies partly outside"),
        (wall(24_000, 18_000, window(width=0)), "Window has no size"),
        (wall(24_000, 18_000, window(), window(name="Lamp")), "Window and Lamp run into each other"),
        (wall(24_000, 18_000, window(0, 0, 24_000, 18_000)), "leave nothing to cover"),
    ],
)
def test_what_does_not_fit_says_what_to_measure_again(outline, words):
    with pytest.raises(MeasureAgain, match=words):
        measured(outline)


def test_an_opening_may_touch_the_edge():
    assert measured(wall(24_000, 18_000, window(0, 0, 6_000, 18_000))).net_m2 == Decimal("3.24")


@given(st.integers(1_000, 50_000), st.integers(1_000, 50_000), st.data())
def test_area_adds_up_when_a_wall_is_parted(width, height, data):
    cut = data.draw(st.integers(1, width - 1))
    parts = measured(wall(cut, height)).gross_m2 + measured(wall(width - cut, height)).gross_m2
    assert parts == measured(wall(width, height)).gross_m2


@given(st.integers(0, 20_000), st.integers(0, 15_000), st.integers(0, 300))
def test_an_opening_takes_the_same_wherever_it_stands_clear_of_the_edges(left, bottom, clearance):
    opening = window(left + 400, bottom + 400, 3_000, 2_000, clearance)
    found = measured(wall(24_000, 18_000 + 400, opening))
    taken = Decimal((3_000 + 2 * clearance) * (2_000 + 2 * clearance)) / 10**8
    assert found.gross_m2 - found.net_m2 == taken.quantize(Decimal("1e-8"))
