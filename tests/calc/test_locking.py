"""Planning anew with some bars cut: they stay as they are, nothing is cut twice."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting.bar_plan import CutBar
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.bars import solve_bars
from materials.cutting.check_bars import faults_of
from materials.cutting.faults import CannotCut
from materials.cutting.locking import remainder, replan
from materials.cutting.search import Search

PROBLEM = BarProblem(
    stock=(BarStock(24000, cost=10), BarStock(10000, quantity=2)),
    parts=(BarPart(7980, 3, "rail"), BarPart(10000, 1, "post"), BarPart(5000, 4, "rung")),
    kerf_mm10=30,
)


def test_what_is_cut_leaves_the_problem():
    rest = remainder(PROBLEM, [CutBar(0, (0, 0, 0)), CutBar(1, (2,), 2)])
    assert rest.parts_at == (1, 2)
    assert [part.quantity for part in rest.problem.parts] == [1, 2]
    assert [stock.quantity for stock in rest.problem.stock] == [None, 0]


def test_nothing_cut_is_the_whole_problem():
    assert remainder(PROBLEM, []).problem == PROBLEM


def test_all_cut_leaves_nothing_to_plan():
    plan = solve_bars(PROBLEM, Search(seconds=1))
    assert remainder(PROBLEM, plan.bars).problem.parts == ()
    assert replan(PROBLEM, plan.bars).bars == plan.bars


def test_a_plan_around_a_poor_first_bar_keeps_it():
    locked = [CutBar(0, (0, 1))]
    told = []
    plan = replan(PROBLEM, locked, Search(seconds=1, on_better=told.append))
    assert plan.bars[0] == locked[0]
    assert faults_of(plan, PROBLEM) == []
    assert plan.proven
    assert all(faults_of(better, PROBLEM) == [] for better in told)


NOT_OURS = [
    ("too many cut", [CutBar(0, (0, 0)), CutBar(0, (0, 0))], "rail: 4 are cut, 3 needed"),
    ("offcuts overdrawn", [CutBar(1, (2,), 3)], "Stock 2: 3 are cut, 2 there"),
    ("no such stock", [CutBar(5, (0,))], "does not have"),
    ("no such part", [CutBar(0, (9,))], "does not have"),
    ("does not fit", [CutBar(1, (1, 2))], "longer than the bar"),
]


@pytest.mark.parametrize(("locked", "words"), [pytest.param(*row[1:], id=row[0]) for row in NOT_OURS])
def test_bars_of_another_job_are_refused(locked, words):
    with pytest.raises(CannotCut) as caught:
        remainder(PROBLEM, locked)
    assert words in str(caught.value)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.integers(200, 3000), st.integers(1, 5)), min_size=1, max_size=8), st.data())
def test_locking_part_of_a_plan_never_spoils_it(parts, data):
    problem = replace(PROBLEM, parts=tuple(BarPart(length, count) for length, count in parts))
    first = solve_bars(problem, Search(seconds=0.3))
    locked = [bar for bar in first.bars if data.draw(st.booleans())]
    plan = replan(problem, locked, Search(seconds=0.3))
    assert faults_of(plan, problem) == []
    assert plan.bars[: len(locked)] == tuple(locked)
    assert plan.cost <= first.cost or not first.proven
