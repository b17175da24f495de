"""What is cut comes out of the plan; the rest is still a plan that can be cut."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.check_bars import faults_of
from materials.cutting.check_panels import faults_of_plan
from materials.cutting.sawing import CameOff, Left, came_off, left_over, rest_of
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock
from materials.cutting.solve import solve
from materials.cutting.uses import uses_of

BARS = BarProblem(
    stock=(BarStock(24000, 1000), BarStock(12100, 0, quantity=1)),
    parts=(BarPart(6000, 9, "shelf", "1"), BarPart(12000, 1, "rail", "2")),
    kerf_mm10=32,
    least_offcut_mm10=3000,
)
SHEETS = SheetProblem(
    stock=(SheetStock(24400, 12200, 7800),),
    parts=(SheetPart(12000, 12000, 3), SheetPart(6000, 3000, 4)),
    kerf_mm10=32,
    least_offcut_long_mm10=3000,
    least_offcut_short_mm10=1000,
)


def test_what_comes_off_a_bar_is_counted_by_part() -> None:
    plan = solve(BARS, seconds=0.2)
    at = next(i for i, use in enumerate(uses_of(plan)) if use.parts == (0, 0, 0))
    assert came_off(plan, at) == (CameOff(0, 6000, 0, 3),)
    assert left_over(plan, at) == (Left(24000 - 3 * 6032),)


def test_too_short_a_leftover_is_not_kept() -> None:
    plan = solve(replace(BARS, least_offcut_mm10=9000), seconds=0.2)
    assert {left_over(plan, at) for at in range(len(uses_of(plan)))} == {()}


def test_a_part_that_is_all_cut_is_wanted_no_more() -> None:
    plan = solve(BARS, seconds=0.2)
    at = next(i for i, use in enumerate(uses_of(plan)) if 1 in use.parts)
    rest, kept = rest_of(plan, at, 1)
    assert kept == (0,)
    assert [part.label for part in rest.problem.parts] == ["shelf"]


def test_an_offcut_that_is_cut_is_gone_from_the_rack() -> None:
    plan = solve(BARS, seconds=0.2)
    at = next(i for i, use in enumerate(uses_of(plan)) if use.stock == 1)
    rest, _ = rest_of(plan, at, 1)
    assert rest.problem.stock[1].quantity == 0
    assert rest.problem.pieces() == 10 - len(uses_of(plan)[at].parts)


def test_what_was_proven_stays_proven() -> None:
    plan = solve(BARS, seconds=0.5)
    assert plan.proven
    rest, _ = rest_of(plan, 0, 1)
    assert rest.proven


@given(st.lists(st.integers(100, 23000), min_size=1, max_size=12), st.data())
def test_cutting_bar_after_bar_ends_with_nothing(lengths: list[int], data: st.DataObject) -> None:
    problem = BarProblem((BarStock(24000, 1000),), tuple(BarPart(size, 2) for size in lengths), kerf_mm10=32)
    plan = solve(problem, seconds=0.02)
    made: Counter[int] = Counter()
    while plan.bars:
        index = data.draw(st.integers(0, len(plan.bars) - 1))
        count = data.draw(st.integers(1, plan.bars[index].repeat))
        for piece in came_off(plan, index):
            made[piece.length_mm10] += piece.quantity * count
        plan, _ = rest_of(plan, index, count)
        assert faults_of(plan, plan.problem) == []
    assert made == Counter(lengths + lengths)
    assert plan.problem.parts == ()


def test_sheets_are_cut_one_after_another() -> None:
    plan = solve(SHEETS, seconds=0.2)
    while plan.sheets:
        assert faults_of_plan(plan) == []
        assert came_off(plan, 0)
        plan, _ = rest_of(plan, 0, 1)
    assert plan.problem.parts == ()


@pytest.mark.parametrize("least", [0, 100_000])
def test_leftovers_of_a_sheet_are_those_worth_keeping(least: int) -> None:
    plan = solve(replace(SHEETS, least_offcut_long_mm10=least), seconds=0.2)
    assert bool(left_over(plan, len(plan.sheets) - 1)) is (least == 0)
