"""The solver against trying all: on small problems its plan is the cheapest there is, and proven so."""

from hypothesis import given, settings

from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.bars import solve_bars
from materials.cutting.check_bars import faults_of
from materials.cutting.search import Search

from .bar_models import least_cost_by_trying_all, model, small_models


def problem_of(model):
    return BarProblem(
        tuple(BarStock(r, c, n) for r, c, n in zip(model.rooms, model.charges, model.limits, strict=True)),
        tuple(BarPart(length, n) for length, n in zip(model.lengths, model.demand, strict=True)),
    )


def test_trying_all_finds_what_is_seen_by_eye():
    """Two of 50 in a bar of 100 for 7, or one by one on 50s for 3: the 50s. With one 50 only, the bar."""
    assert least_cost_by_trying_all(model([50], [2], [(100, 7, None), (50, 3, None)])) == (6, 2)
    assert least_cost_by_trying_all(model([50], [2], [(100, 7, None), (50, 3, 1)])) == (7, 1)


@settings(max_examples=120, deadline=None)
@given(small_models())
def test_the_cheapest_plan_and_of_these_the_fewest_bars(model):
    problem = problem_of(model)
    plan = solve_bars(problem, Search(seconds=5))
    assert faults_of(plan, problem) == []
    assert plan.proven
    assert (plan.cost, plan.bar_count) == least_cost_by_trying_all(model)
