"""Every plan can be cut, says truly what it costs, and comes in time; bad input gets a clear answer."""

import time
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting.check_panels import faults_of_plan
from materials.cutting.faults import CannotCut
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.sheet_plan import CutDirection
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock, Trim

from .sheet_problems import one_size, sheet_problems


def quick():
    return Search(seconds=0.05)


@given(sheet_problems())
@settings(max_examples=120, deadline=None)
def test_every_plan_can_be_cut(problem):
    plan = solve_panels(problem, quick())
    assert faults_of_plan(plan) == []
    assert plan.bound <= plan.cost
    assert plan.to_pay <= plan.cost


@given(sheet_problems(most_parts=4))
@settings(max_examples=30, deadline=None)
def test_every_plan_told_of_is_better_than_the_last(problem):
    told = []
    answer = solve_panels(problem, Search(seconds=0.05, on_better=told.append))
    assert told[-1].sheets == answer.sheets
    assert all(later.rank() < earlier.rank() for earlier, later in pairwise(told))
    assert all(faults_of_plan(plan) == [] for plan in told)


@given(sheet_problems(most_parts=5), st.integers(1, 60))
@settings(max_examples=30, deadline=None)
def test_a_wider_kerf_never_lowers_the_bound(problem, more):
    wider = SheetProblem(problem.parts, problem.stock[:1], problem.kerf_mm10 + more)
    narrower = SheetProblem(problem.parts, problem.stock[:1], problem.kerf_mm10)
    try:
        assert solve_panels(wider, quick()).bound >= 0
    except CannotCut:
        return
    assert solve_panels(narrower, quick()).bound <= solve_panels(wider, quick()).cost


def test_nothing_to_cut_is_a_plan_of_no_sheets():
    plan = solve_panels(SheetProblem((), (SheetStock(1000, 1000),)))
    assert (plan.sheets, plan.cost, plan.proven) == ((), 0, True)


def test_kerf_and_trim_that_just_fit():
    problem = one_size(224, 120, [(100, 48, 4, False)], kerf_mm10=40, trim=Trim.all_round(100), cost=7)
    plan = solve_panels(problem, quick())
    assert (plan.cost, plan.proven, plan.sheet_count) == (7, True, 1)


def test_a_tenth_too_much_takes_a_sheet_for_each():
    problem = one_size(224, 120, [(100, 48, 4, False)], kerf_mm10=41, trim=Trim.all_round(100), cost=7)
    assert solve_panels(problem, quick()).sheet_count == 4


def test_an_offcut_for_nothing_is_used_first():
    offcut = SheetStock(5200, 5200, cost=0, quantity=1)
    problem = SheetProblem((SheetPart(5000, 5000),), (SheetStock(24400, 12200, cost=4000), offcut), 30)
    plan = solve_panels(problem, quick())
    assert (plan.cost, plan.sheets[0].stock, plan.proven) == (0, 1, True)


def test_an_offcut_worth_more_on_the_rack_stays_there():
    offcut = SheetStock(5200, 5200, cost=0, quantity=1, keep_value=4100)
    problem = SheetProblem((SheetPart(5000, 5000),), (SheetStock(24400, 12200, cost=4000), offcut), 30)
    plan = solve_panels(problem, quick())
    assert (plan.to_pay, plan.sheets[0].stock) == (4000, 0)


def test_sheets_cut_alike_are_one_line():
    plan = solve_panels(one_size(100, 100, [(100, 50, 10, False)]), quick())
    assert sum(sheet.repeat for sheet in plan.sheets) == 5
    assert len(plan.sheets) == 1


def test_the_largest_leftover_stays_in_one_piece():
    plan = solve_panels(one_size(2440, 1220, [(2440, 300, 1, False), (600, 300, 2, False)]), quick())
    assert plan.largest_leftover == 24400 * (12200 - 6000)
    assert plan.sheets[0].root.cut is CutDirection.RIP


def test_a_family_lies_in_one_strip():
    parts = tuple(SheetPart(4000, 7000, 1, family="doors", label=f"door {n}") for n in range(4))
    plan = solve_panels(
        SheetProblem((*parts, SheetPart(9000, 5000, 3)), (SheetStock(24400, 12200),), 32), quick()
    )
    doors = [p for sheet in plan.sheets for p in sheet.placements if p.part < 4]
    assert len({p.y_mm10 for p in doors}) == 1
    assert sorted(p.x_mm10 for p in doors) == [doors[0].x_mm10 + n * 4032 for n in range(4)]
    assert faults_of_plan(plan) == []


def test_a_family_too_long_for_a_sheet_runs_on_in_further_strips():
    parts = (SheetPart(9000, 3000, 5, family="front"),)
    plan = solve_panels(SheetProblem(parts, (SheetStock(24400, 12200),), 30), quick())
    assert faults_of_plan(plan) == []
    assert plan.sheet_count == 1


PLENTY = (SheetStock(24400, 12200, label="Birch ply"),)


@pytest.mark.parametrize(
    ("problem", "where", "says"),
    [
        (SheetProblem((SheetPart(30000, 5000),), PLENTY), "parts", "at most 2440 × 1220 mm can be cut"),
        (SheetProblem((SheetPart(5000, 13000, label="End"),), PLENTY), "parts", "End: 500 × 1300 mm"),
        (SheetProblem((SheetPart(5000, 500, 0),), PLENTY), "parts", "asks for 0 pieces"),
        (SheetProblem((SheetPart(0, 500),), PLENTY), "parts", "over nothing"),
        (SheetProblem((SheetPart(500, 500),), PLENTY, 12200), "stock", "kerf of 1220 mm"),
        (SheetProblem((SheetPart(500, 500),), PLENTY, -1), "kerf", "below nothing"),
        (SheetProblem((SheetPart(500, 500),), ()), "stock", "nothing to cut from"),
        (
            SheetProblem((SheetPart(500, 500),), (SheetStock(900, 900, quantity=0),)),
            "stock",
            "nothing to cut from",
        ),
        (
            SheetProblem((SheetPart(5, 5),), (SheetStock(90, 90, trim=Trim.all_round(45)),)),
            "stock",
            "but trim",
        ),
        (SheetProblem((SheetPart(5, 5),), (SheetStock(90, 90, cost=-1),)), "stock", "price"),
        (SheetProblem((SheetPart(5, 5, 20_001),), PLENTY), "parts", "more than one plan takes"),
    ],
)
def test_bad_input_is_told_plainly(problem, where, says):
    with pytest.raises(CannotCut) as caught:
        solve_panels(problem, quick())
    assert caught.value.faults[0].where == where
    assert says in str(caught.value)


def test_a_part_that_fits_only_across_its_grain_goes_into_no_sheet():
    with pytest.raises(CannotCut, match="with its grain along the sheet"):
        solve_panels(SheetProblem((SheetPart(5000, 20000),), PLENTY), quick())
    turned = SheetProblem((SheetPart(5000, 20000, may_turn=True),), PLENTY)
    assert solve_panels(turned, quick()).sheets[0].placements[0].turned


def test_too_few_sheets_on_hand_are_an_answer_too():
    with pytest.raises(CannotCut, match="sheets on hand"):
        solve_panels(SheetProblem((SheetPart(900, 900, 3),), (SheetStock(1000, 1000, quantity=2),)), quick())


@pytest.mark.parametrize("alike", [True, False], ids=["alike", "all different"])
def test_ten_thousand_pieces_come_in_bounded_time(alike):
    sizes = [(2000, 1000)] * 10_000 if alike else [(500 + n % 3989, 300 + n % 2399) for n in range(10_000)]
    problem = SheetProblem(tuple(SheetPart(w, h, may_turn=True) for w, h in sizes), PLENTY, 30)
    started = time.monotonic()
    plan = solve_panels(problem, Search(seconds=1.0))
    assert time.monotonic() - started < 20
    assert sum(len(sheet.placements) * sheet.repeat for sheet in plan.sheets) == 10_000


def test_stopping_gives_what_there_is():
    plan = solve_panels(one_size(100, 100, [(30, 40, 9, True)]), Search(seconds=60, should_stop=lambda: True))
    assert faults_of_plan(plan) == []
