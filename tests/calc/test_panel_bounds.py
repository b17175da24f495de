"""The floors under the cost of sheets: never above a plan, and where they are known, as high as known."""

import numpy as np
import pytest
from hypothesis import given, settings

from materials.cutting.blocks import FilledBlank, Leaf
from materials.cutting.first_plan import steady_plans
from materials.cutting.panel_bound import Cover, area_bound, fewest_sheets, least_cover
from materials.cutting.panel_lp import sheet_floor_for
from materials.cutting.panel_pricing import SheetPricer, reachable
from materials.cutting.widened import Blank, Shape, Widened, widen

from .sheet_problems import one_size, sheet_problems


@pytest.mark.parametrize(
    ("kinds", "need", "least"),
    [
        ([Cover(10, 7, 9)], 0, 0),
        ([Cover(10, 7, 9)], 30, 21),
        ([Cover(10, 7, 9)], 31, 28),
        ([Cover(10, 7, 9), Cover(4, 3, 9)], 18, 13),
        ([Cover(10, 7, 1), Cover(4, 3, 9)], 18, 13),
        ([Cover(10, 7, 1), Cover(4, 0, 2)], 18, 7),
        ([Cover(10, 7, 1)], 18, 7),
    ],
)
def test_least_cover(kinds, need, least):
    assert least_cover(kinds, need) == least


def test_a_cover_of_many_kinds_is_bounded_in_bounded_time():
    kinds = [Cover(1000 + 7 * n, 1000 + 9 * n, 50) for n in range(40)]
    assert 0 < least_cover(kinds, 123_457) <= 130_000


def test_kerf_counts_in_the_area_bound():
    parts = [(50, 50, 4, False)]
    assert area_bound(widen(one_size(100, 100, parts))) == 1
    assert area_bound(widen(one_size(100, 100, parts, kerf_mm10=30))) == 2
    assert fewest_sheets(widen(one_size(100, 100, parts, kerf_mm10=30))) == 2


def solved_floor(widened, layout):
    floor = sheet_floor_for(widened, layout)
    for _ in range(500):
        if floor is None or floor.solved:
            return floor
        floor.step()
    return floor


@given(sheet_problems(most_parts=5, most_quantity=3))
@settings(max_examples=30, deadline=None)
def test_no_layout_costs_less_than_the_floor(problem):
    widened = widen(problem)
    for layout in steady_plans(widened):
        cost = sum(widened.blanks[filled.blank].cost for filled in layout)
        floor = solved_floor(widened, layout)
        assert area_bound(widened) <= cost
        assert floor is None or floor.floor <= cost


def test_parts_over_half_a_sheet_take_a_sheet_each():
    """The area says 3; each part is over half the sheet either way, so no two share one."""
    widened = widen(one_size(100, 100, [(55, 51, 5, True), (51, 52, 4, True)]))
    layout = next(steady_plans(widened))
    assert area_bound(widened) == 3
    assert solved_floor(widened, layout).floor == 9 == len(layout)


def test_scarce_sheets_pay_for_the_difference():
    widened = Widened((Shape(10, 10, 4, False),), (Blank(0, 10, 10, 1, 2), Blank(1, 10, 10, 5, 4)), (), 0)
    layout = [FilledBlank(blank, Leaf(0, False, 10, 10)) for blank in (0, 0, 1, 1)]
    assert solved_floor(widened, layout).floor == 12


def test_reachable_sums():
    assert reachable([(3, 2), (5, 1)], 10).tolist() == [0, 3, 5, 6, 8]
    assert reachable([(4, 9)], 10).tolist() == [0, 4, 8]


def test_pricing_against_plain_recursion():
    """The table against the recursion written down plainly, on small sheets with parts that may turn."""
    rng = np.random.default_rng(3)
    for _ in range(20):
        shapes = tuple(
            Shape(int(w), int(h), int(q), bool(w != h)) for w, h, q in rng.integers(1, 7, size=(4, 3))
        )
        widened = Widened(shapes, (Blank(0, 12, 9, 1, 9),), (), 0)
        worth = [int(value) for value in rng.integers(1, 50, size=4)]
        pricer = SheetPricer(widened)
        unlimited = [Shape(s.width, s.height, 99, s.may_turn) for s in shapes]
        most = pricer.price(worth)[0]
        assert most <= plain(12, 9, unlimited, worth, {})
        best = pricer.best_cutting(widened.blanks[0])
        assert sum(worth[shape] * count for shape, count in best.items()) == most


def plain(width, height, shapes, worth, known):
    if (width, height) not in known:
        best = 0
        for shape, value in zip(shapes, worth, strict=True):
            sizes = {(shape.width, shape.height)}
            if shape.may_turn:
                sizes.add((shape.height, shape.width))
            if any(w <= width and h <= height for w, h in sizes):
                best = max(best, value)
        for at in range(1, width // 2 + 1):
            both = plain(at, height, shapes, worth, known) + plain(width - at, height, shapes, worth, known)
            best = max(best, both)
        for at in range(1, height // 2 + 1):
            both = plain(width, at, shapes, worth, known) + plain(width, height - at, shapes, worth, known)
            best = max(best, both)
        known[width, height] = best
    return known[width, height]
