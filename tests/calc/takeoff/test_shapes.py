"""Areas and arcs by their rules, at the edges. Published figures stand in tests/published."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.shapes import (
    ArcTop,
    OffsetTable,
    Point,
    Polygon,
    Rectangle,
    Station,
    arc_of,
    corners_of,
    polygon_area,
    simpson,
    trapezoidal,
)


def table(*pairs):
    return OffsetTable(tuple(Station(along, width) for along, width in pairs))


def test_a_rectangle_has_four_corners():
    assert corners_of(Rectangle(10, 20)) == ((0, 0), (10, 0), (10, 20), (0, 20))


def test_a_polygon_is_moved_to_its_own_corner():
    shape = Polygon((Point(100, 50), Point(300, 50), Point(300, 150)))
    assert corners_of(shape) == ((0, 0), (200, 0), (200, 100))


def test_the_first_corner_may_be_given_again_at_the_end():
    shape = Polygon((Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 0)))
    assert len(corners_of(shape)) == 3


def test_the_area_does_not_ask_which_way_round():
    spots = [(0, 0), (40, 0), (40, 30)]
    assert polygon_area(spots) == polygon_area(spots[::-1]) == Decimal(600)


def test_an_arc_stands_on_its_sides():
    corners = corners_of(ArcTop(24_000, 3_000, 18_000))
    assert corners[:2] == ((0, 0), (24_000, 0))
    assert max(up for _, up in corners) == 21_000


def test_an_arc_without_sides_starts_on_its_chord():
    corners = corners_of(ArcTop(24_000, 3_000))
    assert min(up for _, up in corners) == 0
    assert len(set(corners)) == len(corners)


def test_an_offset_table_may_run_out_to_nothing_at_its_ends():
    assert corners_of(table((0, 0), (1000, 500), (2000, 0))) == ((0, 0), (2000, 0), (1000, 500))


@pytest.mark.parametrize(
    ("shape", "field", "words"),
    [
        (Rectangle(0, 10), "width", "width must be more than nothing"),
        (Rectangle(10, -5), "height", "height must be more than nothing"),
        (Polygon((Point(0, 0), Point(1, 1))), "corners", "at least three corners"),
        (Polygon((Point(0, 0), Point(0, 0), Point(1, 1), Point(5, 0))), "corners", "are the same"),
        (ArcTop(0, 10), "chord", "chord must be more than nothing"),
        (ArcTop(100, 0), "rise", "straight and has no radius"),
        (ArcTop(100, 101), "rise", "rise is more than the chord"),
        (table((0, 10)), "stations", "at least two stations"),
        (table((0, 10), (20, 10), (10, 10)), "stations", "Station 3 does not lie beyond station 2"),
        (table((0, 10), (0, 20)), "stations", "Station 2 does not lie beyond station 1"),
        (table((0, 0), (10, 0)), "stations", "Every width is nothing"),
        (table((0, 5), (10, 0), (20, 5)), "stations", "pinches"),
    ],
)
def test_what_cannot_be_drawn_says_what_to_measure_again(shape, field, words):
    with pytest.raises(MeasureAgain, match=words) as caught:
        corners_of(shape)
    assert caught.value.field == field


def test_simpson_wants_equal_steps():
    with pytest.raises(MeasureAgain, match="equal steps"):
        simpson([0, 1, 3], [1, 1, 1])


@given(st.lists(st.integers(0, 9_000), min_size=2, max_size=30), st.data())
def test_trapezoids_add_up_when_the_base_line_is_parted(widths, data):
    along = [1_000 * n for n in range(len(widths))]
    cut = data.draw(st.integers(0, len(widths) - 1))
    whole = trapezoidal(along, widths)
    assert whole == trapezoidal(along[: cut + 1], widths[: cut + 1]) + trapezoidal(along[cut:], widths[cut:])


@given(st.integers(-50, 50), st.integers(-50, 50), st.integers(-50, 50), st.integers(1, 8))
def test_simpson_is_exact_for_any_quadratic(a, b, c, pairs):
    end = 2 * pairs
    along = list(range(end + 1))
    widths = [a * x * x + b * x + c for x in along]
    assert simpson(along, widths) == Fraction(a * end**3, 3) + Fraction(b * end**2, 2) + c * end


@given(st.integers(10, 100_000), st.integers(1, 100))
def test_an_arc_is_longer_than_its_chord_and_holds_more_than_its_triangle(chord, rise_pct):
    rise = chord * rise_pct / 100
    arc = arc_of(chord, rise)
    assert arc.length > chord
    assert arc.segment_area >= chord * rise / 2
