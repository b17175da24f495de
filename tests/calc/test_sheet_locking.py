"""What is cut stays cut: planning the rest of a job of sheets."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting.check_panels import faults_of_plan
from materials.cutting.faults import CannotCut
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.sheet_locking import replan_sheets, sheet_remainder
from materials.cutting.sheet_problem import SheetPart

from .sheet_problems import one_size, sheet_problems


def quick():
    return Search(seconds=0.05)


@given(sheet_problems(), st.data())
@settings(max_examples=40, deadline=None)
def test_the_whole_stays_valid_whichever_sheets_are_cut(problem, data):
    problem = replace(problem, parts=tuple(replace(part, family="") for part in problem.parts))
    plan = solve_panels(problem, quick())
    locked = [sheet for sheet in plan.sheets if data.draw(st.booleans())]
    again = replan_sheets(problem, locked, quick())
    assert faults_of_plan(again) == []
    assert list(again.sheets[: len(locked)]) == locked
    assert again.bound <= again.cost


def test_a_part_added_later_is_planned_beside_what_is_cut():
    problem = one_size(100, 100, [(60, 100, 1, False)])
    cut = solve_panels(problem, quick()).sheets
    more = replace(problem, parts=(*problem.parts, SheetPart(500, 500, 2)))
    told = []
    again = replan_sheets(more, cut, Search(seconds=0.05, on_better=told.append))
    assert (again.sheets[0], again.sheet_count) == (cut[0], 2)
    assert told[-1].sheets == again.sheets


def test_nothing_left_to_cut():
    problem = one_size(100, 100, [(60, 100, 1, False)])
    cut = solve_panels(problem, quick()).sheets
    assert replan_sheets(problem, cut, quick()).sheets == cut


def test_more_cut_than_wanted_is_refused():
    problem = one_size(100, 100, [(60, 100, 2, False)])
    cut = solve_panels(problem, quick()).sheets
    fewer = replace(problem, parts=(replace(problem.parts[0], quantity=1),))
    with pytest.raises(CannotCut, match="2 are cut already, 1 are wanted"):
        sheet_remainder(fewer, cut)


def test_a_sheet_of_another_job_is_refused():
    cut = solve_panels(one_size(100, 100, [(60, 100, 1, False)]), quick()).sheets
    with pytest.raises(CannotCut, match="Cut sheet 1"):
        sheet_remainder(one_size(50, 50, [(50, 50, 1, False)]), cut)


def test_an_offcut_that_is_cut_is_no_longer_on_hand():
    problem = one_size(100, 100, [(60, 100, 2, False)], quantity=2)
    plan = solve_panels(problem, quick())
    rest = sheet_remainder(problem, [replace(plan.sheets[0], repeat=1)])
    assert (rest.problem.stock[0].quantity, rest.problem.parts[0].quantity) == (1, 1)
