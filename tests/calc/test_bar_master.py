"""The linear program over patterns: values known from print, and floors that no plan undercuts."""

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings

from materials.cutting.bar_master import Master, fillings_of, patterns_of
from materials.cutting.bar_pricing import Pattern
from materials.cutting.cut_model import Filling
from materials.cutting.quiet_solver import QuietSolver

from .bar_models import least_cost_by_trying_all, model, small_models


def never():
    return False


def relaxed(model):
    return Master(model).relax(never)


def test_chvatal_452_and_a_quarter():
    """Chvátal, Linear Programming (1983), chapter 13: 48.5 + 105.5 + 100.75 + 197.5 raws."""
    chvatal = model([45, 36, 31, 14], [97, 610, 395, 211], [(100, 1, None)])
    assert relaxed(chvatal).cost == pytest.approx(452.25)
    assert 452 < relaxed(chvatal).floor <= Fraction("452.25")


def test_a_limited_stock_pays_rent():
    """Four of 50: two on the free offcuts, two on bars of 100 for 7."""
    offcuts = model([50], [4], [(100, 7, None), (50, 0, 2)])
    assert relaxed(offcuts).cost * Master(offcuts).money == pytest.approx(7)
    assert 6 < relaxed(offcuts).floor <= 7


@settings(max_examples=80, deadline=None)
@given(small_models())
def test_the_floor_lies_under_the_best_plan_and_meets_the_program(model):
    result, money = relaxed(model), Master(model).money
    assert result.floor <= least_cost_by_trying_all(model)[0]
    assert float(result.floor) == pytest.approx(result.cost * money, abs=1e-3)


def test_over_before_it_began():
    assert Master(model([5], [1], [(9, 1, None)])).relax(lambda: True) is None


def test_stops_once_the_cost_is_seen_to_be_too_much():
    chvatal = model([45, 36, 31, 14], [97, 610, 395, 211], [(100, 1, None)])
    assert Master(chvatal).relax(never, enough=1.0).floor > 1


def test_what_is_left_to_cut_bars_patterns_that_cut_too_much():
    master = Master(model([5, 4], [2, 2], [(10, 1, None)]))
    master.add([Pattern(0, ((0, 2),))])
    master.ask_for([1, 2], [])
    result = master.relax(never)
    assert result.amounts[master.patterns.index(Pattern(0, ((0, 2),)))] == 0
    assert result.cost == pytest.approx(1.5)  # 5+4 and half of 4+4


def test_a_pattern_known_is_not_added_again():
    master = Master(model([5], [2], [(10, 1, None)]))
    assert master.add([Pattern(0, ((0, 2),)), Pattern(0, ((0, 2),)), Pattern(0, ((0, 1),))]) == 1


def test_plans_to_patterns_and_back():
    bars = [Filling(0, (0, 0, 1), 2), Filling(1, (1,))]
    patterns = patterns_of(bars)
    assert patterns == [Pattern(0, ((0, 2), (1, 1))), Pattern(1, ((1, 1),))]
    assert fillings_of(Counter({patterns[0]: 2, patterns[1]: 1})) == bars


def test_the_solver_keeps_quiet(capfd):
    solver = QuietSolver()
    solver.addVar(0, 1)
    solver.run()
    assert capfd.readouterr() == ("", "")
