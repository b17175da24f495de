"""What a plan is worth beside simpler ways."""

from decimal import Decimal

from hypothesis import given, settings

from materials.cutting.bar_layouts import plan_with_few_layouts
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.bars import solve_bars
from materials.cutting.check_bars import faults_of
from materials.cutting.check_panels import faults_of_plan
from materials.cutting.compare import Way, compare_bars, compare_sheets
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock
from materials.cutting.sold import Sold, Till
from materials.cutting.strips import cuts_of, plan_of_strips

from .sheet_problems import sheet_problems


def bars(stock, parts, **saw):
    return BarProblem(
        tuple(BarStock(length, cost, quantity) for length, cost, quantity in stock),
        tuple(BarPart(length, quantity) for length, quantity in parts),
        **saw,
    )


def compared(problem):
    plan = solve_bars(problem, Search(seconds=1))
    return plan, {way.way: way for way in compare_bars(plan, Search(seconds=1))}


def test_ten_per_cent_is_not_always_enough():
    """Six of 60 from bars of 100 take six bars; 360 and ten per cent is four."""
    plan, ways = compared(bars([(100, 7, None)], [(60, 6)]))
    assert (plan.to_pay, ways[Way.ALLOWANCE].to_pay) == (42, 28)
    assert (ways[Way.ALLOWANCE].pieces, ways[Way.ALLOWANCE].is_enough) == (4, False)


def test_ten_per_cent_is_often_too_much():
    """Twenty of 50 fill ten bars; with ten per cent it is eleven."""
    plan, ways = compared(bars([(100, 7, None)], [(50, 20)]))
    assert (plan.to_pay, ways[Way.ALLOWANCE].to_pay, ways[Way.ALLOWANCE].is_enough) == (70, 77, True)


def test_one_length_only_is_the_cheapest_of_them():
    """Six of 60: 6 x 7 from the long bar, 6 x 5 from the short."""
    plan, ways = compared(bars([(100, 7, None), (65, 5, None), (60, 0, 1)], [(60, 6)]))
    assert plan.to_pay == 25
    assert (ways[Way.ONE_SIZE].to_pay, ways[Way.ONE_SIZE].pieces) == (30, 6)


def test_a_length_too_short_for_a_part_is_no_way():
    _, ways = compared(bars([(100, 7, None), (50, 1, None)], [(60, 1), (40, 1)]))
    assert (ways[Way.ONE_SIZE].to_pay, ways[Way.ONE_SIZE].pieces) == (7, 1)


def test_every_way_is_paid_for_in_whole_packs():
    """Two of 60 come from two bars of a pack of six at 42; ten per cent more is two bars as well."""
    problem = bars([(100, 7, None)], [(60, 2)])
    till = Till(problem, [Sold(Decimal(6), Decimal(42))])
    plan = solve_bars(problem, Search(seconds=1))
    ways = compare_bars(plan, Search(seconds=1), till)
    assert {way.way: way.to_pay for way in ways} == dict.fromkeys(
        (Way.ALLOWANCE, Way.ONE_SIZE, Way.FEW_LAYOUTS), 42
    )


def test_sheets_are_paid_for_in_whole_packs():
    problem = SheetProblem((SheetPart(60, 60, 2),), (SheetStock(100, 100, 9),))
    plan = solve_panels(problem, Search(seconds=0.3))
    ways = compare_sheets(plan, Search(seconds=0.3), Till(problem, [Sold(Decimal(5), Decimal(45))]))
    assert {way.way: way.to_pay for way in ways} == dict.fromkeys(
        (Way.ALLOWANCE, Way.ONE_SIZE, Way.STRIPS), 45
    )


def test_from_offcuts_alone_there_is_nothing_to_compare():
    _, ways = compared(bars([(100, 0, 3)], [(60, 2)]))
    assert ways == {}


def test_few_layouts_repeat_one():
    """Ten each of 60, 30 and 10: one layout ten times."""
    problem = bars([(100, 7, None)], [(60, 10), (30, 10), (10, 10)])
    plan = plan_with_few_layouts(problem)
    assert [(bar.parts, bar.repeat) for bar in plan.bars] == [((0, 1, 2), 10)]


def test_few_layouts_can_be_cut():
    problem = bars(
        [(1000, 7, None), (700, 5, None)], [(n, 1 + n % 7) for n in range(90, 500, 31)], kerf_mm10=3
    )
    plan = plan_with_few_layouts(problem)
    best, ways = compared(problem)
    assert faults_of(plan, problem) == []
    assert ways[Way.FEW_LAYOUTS].layouts == len(plan.bars) <= len(best.bars)
    assert ways[Way.FEW_LAYOUTS].to_pay >= best.bound


def test_no_layouts_of_nothing():
    assert plan_with_few_layouts(bars([(100, 7, None)], [])) is None


def test_sheets_by_area_and_of_one_size():
    problem = SheetProblem(
        parts=(SheetPart(60, 60, 4),), stock=(SheetStock(100, 100, 9), SheetStock(70, 60, 5, quantity=2))
    )
    plan = solve_panels(problem, Search(seconds=0.3))
    ways = {way.way: way for way in compare_sheets(plan, Search(seconds=0.3))}
    assert plan.to_pay == 28
    assert (ways[Way.ALLOWANCE].to_pay, ways[Way.ALLOWANCE].is_enough) == (18, False)
    assert (ways[Way.ONE_SIZE].to_pay, ways[Way.ONE_SIZE].pieces) == (36, 4)


def test_strips_of_one_size_of_part():
    """By hand, no kerf: three strips of two 60 × 30 and one of two 30 × 20 go into one sheet of 130 × 130.

    One crosscut takes the 10 off that no strip uses, four rips free the strips, then each strip of 60s takes
    one cut, that of 30s two.
    """
    problem = SheetProblem((SheetPart(60, 30, 6), SheetPart(30, 20, 2)), (SheetStock(130, 130, 9),))
    plan = plan_of_strips(problem)
    assert (plan.sheet_count, plan.to_pay, faults_of_plan(plan)) == (1, 9, [])
    assert cuts_of(plan) == 1 + 4 + 3 * 1 + 2


def test_sheets_cut_alike_take_their_cuts_each():
    """By hand: eight of 50 × 50 from sheets of 100 × 100 are two sheets of one rip and two crosscuts."""
    plan = plan_of_strips(SheetProblem((SheetPart(50, 50, 8),), (SheetStock(100, 100, 9),)))
    assert (len(plan.sheets), plan.sheet_count, cuts_of(plan)) == (1, 2, 2 * 3)


def test_strips_are_left_out_where_no_size_takes_every_part():
    sizes = (SheetStock(100, 20, 1), SheetStock(30, 60, 1))
    assert plan_of_strips(SheetProblem((SheetPart(90, 10), SheetPart(30, 50)), sizes)) is None


@given(sheet_problems())
@settings(max_examples=60, deadline=None)
def test_a_plan_of_strips_can_be_cut_and_costs_no_less_than_the_bound(problem):
    plan = plan_of_strips(problem)
    best = solve_panels(problem, Search(seconds=0.02))
    assert faults_of_plan(plan) == []
    assert plan.to_pay >= best.bound
