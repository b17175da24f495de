"""Dates that follow a change, counted by hand on the calendar of June 2026 (1 June is a Monday)."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from jobs.progress.moving import Stretch, days_later, move_plan


def june(day):
    return date(2026, 6, day)


LINING = Stretch(1, june(1), 5)  # Mon 1 to Fri 5
BUNK = Stretch(2, june(8), 3)  # Mon 8 to Wed 10
TRIM = Stretch(3, june(11), 2)  # Thu 11 to Fri 12
PAINT = Stretch(4, june(3), 2)  # beside the lining
UNPLANNED = Stretch(5, None, 0)
PLAN = [LINING, BUNK, TRIM]


def starts(plan):
    return {each.after.key: each.after.start for each in plan.moved}


@pytest.mark.parametrize(
    ("added", "moved", "ends"),
    [
        ({}, {}, 12),
        ({1: 2}, {1: june(1), 2: june(10), 3: june(15)}, 16),
        ({2: 1}, {2: june(8), 3: june(12)}, 15),
        ({3: 1}, {3: june(11)}, 15),
        ({1: 1, 2: 1}, {1: june(1), 2: june(9), 3: june(15)}, 16),
        ({1: -2}, {1: june(1)}, 12),  # shorter, nothing brought forward
        ({1: -2, 2: 2}, {1: june(1), 2: june(8), 3: june(15)}, 16),
        ({3: -1}, {3: june(11)}, 12),
        ({5: 3}, {5: None}, 17),  # a phase without a place in the plan
    ],
)
def test_what_follows_moves(added, moved, ends):
    plan = move_plan([*PLAN, UNPLANNED], added, None)
    assert starts(plan) == moved
    assert (plan.ends_before, plan.ends_after) == (june(12), june(ends))


def test_a_phase_beside_it_stays():
    plan = move_plan([LINING, PAINT], {4: 1}, None)
    assert starts(plan) == {4: june(3)}
    assert plan.ends_after == june(5)


def test_a_phase_that_has_begun_keeps_its_start_and_what_follows_moves():
    begun = Stretch(2, june(8), 3, begun=True)
    assert starts(move_plan([LINING, begun, TRIM], {1: 2}, None)) == {1: june(1), 3: june(15)}


def test_the_job_ends_as_many_days_later_as_its_plan():
    plan = move_plan(PLAN, {1: 2}, june(19))
    assert (plan.ends_before, plan.ends_after) == (june(19), june(23))


def test_a_job_without_dates_stays_without():
    plan = move_plan([UNPLANNED], {5: 2}, None)
    assert (plan.ends_before, plan.ends_after) == (None, None)


def test_more_days_left_out_than_planned_leave_none():
    (moved,) = move_plan([LINING], {1: -9}, None).moved
    assert moved.after.days == 0


def test_a_start_on_a_weekend_counts_from_its_monday():
    saturday = Stretch(2, june(6), 2)
    assert starts(move_plan([LINING, saturday], {1: 1}, None)) == {1: june(1), 2: june(9)}


@pytest.mark.parametrize(("day", "count", "then"), [(5, 1, 8), (6, 1, 8), (7, 0, 7), (1, 5, 8), (12, 10, 26)])
def test_working_days_pass_over_weekends(day, count, then):
    assert days_later(june(day), count) == june(then)


SOME_DAYS = st.integers(0, 30)
PLANS = st.lists(st.tuples(st.integers(0, 60), SOME_DAYS), min_size=1, max_size=6).map(
    lambda rows: [
        Stretch(key, june(1) + timedelta(days=start), days) for key, (start, days) in enumerate(rows)
    ]
)


@example([Stretch(0, june(13), 30), Stretch(1, date(2026, 7, 25), 0)], {0: 1})
@given(PLANS, st.dictionaries(st.integers(0, 5), st.integers(-10, 20)))
def test_nothing_is_brought_forward_and_the_order_holds(stretches, added):
    plan = move_plan(stretches, added, None)
    after = {each.key: each for each in stretches} | {each.after.key: each.after for each in plan.moved}
    assert all(after[each.key].start >= each.start for each in stretches)
    assert plan.ends_after >= plan.ends_before
    for one in stretches:
        for other in stretches:
            if one.last < other.start:
                assert after[one.key].last < after[other.key].start or one.days + added.get(one.key, 0) <= 0


@given(PLANS)
def test_adding_nothing_moves_nothing(stretches):
    assert move_plan(stretches, {}, None).moved == ()
