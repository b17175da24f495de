"""All jobs at once: money in hand, margin, hours by person, weeks ahead."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
import time_machine
from django.test import Client as Browser
from django.urls import reverse

from tests import make
from tests.checks import queries_of, says

ADDRESS = "/jobs/all/"


def shown(browser: Browser) -> object:
    return browser.get(ADDRESS).context["shown"]


def under_way(state: str = "bench", **fields: object) -> object:
    phase = make.phase(job=make.job(state=state), percent_done=50, **fields)
    make.budget(phase=phase)
    make.hours(phase=phase, seconds=6 * 3600)
    make.cost(phase=phase)
    return phase


def test_nothing_says_so(as_owner: Browser) -> None:
    answer = as_owner.get(ADDRESS)
    assert says(answer, "No job is won and unfinished.", "Nobody has booked hours", "No job is closed yet.")


def test_work_in_hand(as_owner: Browser) -> None:
    phase = under_way()
    make.budget(phase=phase, source="change", price=Decimal(100), labour_cost=0, material_cost=0, hours=0)
    line = shown(as_owner).in_hand[0]
    assert (line.price, line.to_earn) == (600, 300)
    assert (line.margin_agreed, line.margin_forecast) == (300, 260)


def test_a_phase_without_hours_is_still_to_earn(as_owner: Browser) -> None:
    job = make.job(state="bench")
    make.budget(phase=make.phase(job=job, percent_done=100))
    subcontract = make.phase(job=job)
    make.budget(phase=subcontract, hours=0, labour_cost=0, other_cost=Decimal(4000), price=Decimal(5000))
    page = shown(as_owner)
    assert (page.in_hand[0].price, page.sums.to_earn) == (5500, 5000)


@pytest.mark.parametrize("state", ["enquiry", "quoted", "lost"])
def test_what_is_not_won_is_not_in_hand(as_owner: Browser, state: str) -> None:
    under_way(state)
    assert not shown(as_owner).in_hand


def test_finished_jobs_stand_apart(as_owner: Browser) -> None:
    under_way("closed")
    page = shown(as_owner)
    assert (len(page.in_hand), len(page.finished)) == (0, 1)


@time_machine.travel("2026-06-03 12:00 +0000")
def test_hours_by_person_and_week(as_owner: Browser) -> None:
    ash = make.person("Ash")
    make.hours(person=ash, on_date=date(2026, 6, 1), seconds=5400)
    make.hours(person=ash, on_date=date(2026, 5, 31), seconds=3600)
    make.hours(person=ash, on_date=date(2026, 1, 1), seconds=3600)
    row = shown(as_owner).people[0]
    assert (row.name, row.hours[-2:], row.total) == ("Ash", [1, Decimal("1.5")], Decimal("2.5"))


@time_machine.travel("2026-06-03 12:00 +0000")
def test_two_people_of_one_name_are_two(as_owner: Browser) -> None:
    for _ in range(2):
        make.hours(person=make.person("Ash"), on_date=date(2026, 6, 1), seconds=5400)
    assert [(row.name, row.total) for row in shown(as_owner).people] == [("Ash", Decimal("1.5"))] * 2


@time_machine.travel("2026-06-03 12:00 +0000")
def test_weeks_ahead_hold_what_is_still_to_come(as_owner: Browser) -> None:
    under_way(planned_start=date(2026, 6, 8), planned_days=5)
    page = shown(as_owner)
    assert page.capacity == 3 * 40  # the owner, and those who booked hours and cost
    assert [week.booked for week in page.weeks_ahead][:3] == [0, 6, 0]


@time_machine.travel("2026-06-03 12:00 +0000")
def test_a_phase_without_budget_counts_its_planned_days(as_owner: Browser) -> None:
    make.phase(job=make.job(state="won"), planned_start=date(2026, 6, 8), planned_days=2)
    assert shown(as_owner).weeks_ahead[1].booked == 16


@pytest.mark.parametrize("budgeted", [True, False])
@pytest.mark.parametrize("left", [0, 3])
@time_machine.travel("2026-06-03 12:00 +0000")
def test_hours_left_by_the_makers_word_count_before_the_plan(
    as_owner: Browser, left: int, budgeted: bool
) -> None:
    phase = make.phase(
        job=make.job(state="bench"), percent_done=10, hours_left=left,
        planned_start=date(2026, 6, 8), planned_days=5,
    )  # fmt: skip
    if budgeted:
        make.budget(phase=phase)
    assert shown(as_owner).weeks_ahead[1].booked == left


def test_hours_without_a_plan_are_told_apart(as_owner: Browser) -> None:
    under_way()
    assert shown(as_owner).unplanned == 6


def test_a_maker_does_not_see_it(as_maker: Browser) -> None:
    assert as_maker.get(ADDRESS).status_code == 403
    assert not says(as_maker.get(reverse("jobs:list")), "All jobs at once")


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow(as_owner: Browser, count: int) -> None:
    for _ in range(count):
        under_way()
        under_way("closed")
    assert queries_of(as_owner, ADDRESS) == 14
