"""The outlook on labour at the quote desk, from finished jobs."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from quotes.queries.desk import desk_of
from quotes.queries.outlook import outlook_of
from tests import make
from tests.checks import queries_of, says


@pytest.fixture
def desk(workshop):
    line = make.quote_line(20, kind="labour", hours=Decimal(40), description="Line the walls")
    return reverse("quotes:desk", args=[line.quote.pk])


def finished(*seconds):
    for each in seconds:
        phase = make.phase(job=make.job(state="closed"))
        make.budget(phase=phase)
        make.hours(phase=phase, seconds=each)


def test_too_little_history_says_so_and_gives_no_figure(as_owner, desk):
    finished(36000, 40000)
    page = as_owner.get(desk)
    assert says(page, "Too little to go by: only 2 finished jobs")
    assert not says(page, "Chance that the price holds")


def test_the_owner_sees_low_likely_high_and_the_chance(as_owner, desk):
    finished(45000, 45000, 45000)
    assert says(as_owner.get(desk), "From 3 finished jobs", "50.0 h", "Chance that the price holds")


def test_nobody_but_the_owner_sees_it(as_bookkeeper, desk):
    finished(45000, 45000, 45000)
    assert not says(as_bookkeeper.get(desk), "Where the labour may end")


def test_a_quote_without_labour_has_no_outlook(as_owner, workshop):
    page = as_owner.get(reverse("quotes:desk", args=[make.quote_line(100).quote.pk]))
    assert not says(page, "Where the labour may end")


@pytest.mark.parametrize(("state", "there"), [("draft", True), ("issued", True), ("accepted", False)])
def test_only_a_quote_that_is_not_decided_has_an_outlook(owner, state, there):
    desk = desk_of(make.quote_line(20, kind="labour", hours=Decimal(40)).quote, today=date(2026, 6, 2))
    desk.quote.state = state
    assert (outlook_of(desk, owner) is not None) is there


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow_with_finished_jobs(as_owner, desk, count):
    finished(*[36000] * count)
    assert queries_of(as_owner, desk) == 10
