"""A plan that is kept as JSON comes back the same."""

from __future__ import annotations

import json

import pytest

from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock, Trim
from materials.cutting.solve import is_quick, solve
from materials.cutting.stored import Problem, plan_data, plan_from, problem_data, problem_from
from materials.cutting.uses import uses_of

BARS = BarProblem(
    stock=(BarStock(24000, 1000, label="2.4 m", key="size 1"), BarStock(9000, 0, quantity=1, trim_mm10=5)),
    parts=(BarPart(6000, 10, "shelf", "1"), BarPart(8000, 1, "rail", "2")),
    kerf_mm10=32,
    least_offcut_mm10=3000,
)
SHEETS = SheetProblem(
    stock=(SheetStock(24400, 12200, 7800, trim=Trim.all_round(50)),),
    parts=(
        SheetPart(19000, 6000, 2, label="base", phase="1"),
        SheetPart(7000, 3000, 5, may_turn=True, phase="2"),
    ),
    kerf_mm10=32,
    least_offcut_short_mm10=2000,
    least_offcut_long_mm10=4000,
)


@pytest.mark.parametrize("problem", [BARS, SHEETS], ids=["bars", "sheets"])
def test_a_problem_and_its_plan_come_back_the_same(problem: Problem) -> None:
    plan = solve(problem, seconds=0.2)
    again = problem_from(json.loads(json.dumps(problem_data(problem))))
    assert again == problem
    assert plan_from(again, json.loads(json.dumps(plan_data(plan)))) == plan


@pytest.mark.parametrize("problem", [BARS, SHEETS], ids=["bars", "sheets"])
def test_what_a_plan_takes_makes_every_part(problem: Problem) -> None:
    uses = uses_of(solve(problem, seconds=0.2))
    for index, part in enumerate(problem.parts):
        assert sum(use.parts.count(index) * use.repeat for use in uses) == part.quantity


def test_a_large_task_is_left_to_the_search() -> None:
    assert is_quick(BARS)
    assert not is_quick(BarProblem((BarStock(24000),), (BarPart(6000, 1001),)))
    assert not is_quick(SheetProblem((SheetPart(600, 300, 301),), (SheetStock(24400, 12200),)))
