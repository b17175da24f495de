"""The problem as the solvers see it, and plans from what they find."""

from materials.cutting.bar_plan import CutBar
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.check_bars import faults_of
from materials.cutting.cut_model import Filling, model_of, plan_from, with_missing_stock

PROBLEM = BarProblem(
    stock=(BarStock(2400, cost=7), BarStock(1000, quantity=1, keep_value=2)),
    parts=(BarPart(770, 1, phase="walls"), BarPart(320, 2), BarPart(770, 2, phase="bunk")),
    kerf_mm10=30,
    trim_mm10=5,
)


def test_equal_lengths_become_one_kerfs_go_in_and_what_divides_all_comes_out():
    """800 and 350 with their kerfs are 16 and 7 fifties; 2390 + 30 is room for 48 of them."""
    model = model_of(PROBLEM)
    assert (model.lengths, model.demand) == ((16, 7), (3, 2))
    assert (model.rooms, model.charges, model.limits) == ((48, 20), (7, 2), (None, 1))


def test_stock_that_takes_nothing_or_is_not_there_is_left_out():
    stock = (BarStock(10), BarStock(50, quantity=0), BarStock(50, 3), BarStock(50, 2), BarStock(60, 9))
    assert model_of(BarProblem(stock, (BarPart(40), BarPart(31)))).stock_order == (4, 3, 2)


def test_a_plan_names_the_parts_of_each_phase_and_gathers_bars_cut_alike():
    plan = plan_from(PROBLEM, [Filling(0, (0, 0)), Filling(0, (0, 1)), Filling(1, (1,))], 3, 0.1, "by hand")
    assert plan.bars == (CutBar(0, (0, 2)), CutBar(0, (2, 1)), CutBar(1, (1,)))
    assert faults_of(plan, PROBLEM) == []
    alike = BarProblem((BarStock(100, 1),), (BarPart(40, 6),))
    assert plan_from(alike, [Filling(0, (0, 0), 3)], 0, 0.0, "").bars == (CutBar(0, (0, 0), 3),)


def test_a_stock_that_is_not_there_stands_in_where_stock_can_run_out():
    short = model_of(BarProblem((BarStock(100, 5, quantity=2), BarStock(40, 3)), (BarPart(60, 4),)))
    model = with_missing_stock(short)
    assert model.rooms[-1] == max(short.rooms)
    assert model.limits[-1] is None
    assert model.charges[-1] > 2 * 5 + 4 * 3


def test_nothing_stands_in_where_an_endless_stock_takes_all():
    model = model_of(PROBLEM)
    assert with_missing_stock(model) is model
