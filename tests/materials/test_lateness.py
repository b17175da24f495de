"""Goods later than the phase that needs them: said on the job, the purchase list and in the calendar."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs import job_links
from materials.models import Supplier
from materials.queries.calendar import delivery_events
from materials.queries.lateness import late_deliveries
from tests import make
from tests.checks import queries_of, says


@pytest.fixture
def today(workshop):
    return timezone.localdate()


@pytest.fixture
def phase(today):
    return make.phase(
        job=make.job(state="bench"), title="Bunk", planned_start=today + timedelta(days=3), planned_days=2
    )


def coming(phase, in_days, state="placed", **fields):
    expected = timezone.localdate() + timedelta(days=in_days)
    return make.order(weights={phase: "1"}, state=state, expected_on=expected, **fields)


@pytest.mark.parametrize(
    ("in_days", "state", "words"),
    [
        (4, "placed", "and Bunk starts on"),
        (4, "part", "and Bunk starts on"),
        (4, "draft", "and Bunk starts on"),
        (3, "placed", ""),
        (4, "received", ""),
        (4, "cancelled", ""),
        (-1, "placed", "is not all here"),
        (-1, "draft", ""),
    ],
)
def test_a_delivery_against_the_start_of_its_phase(phase, in_days, state, words):
    coming(phase, in_days, state)
    said = [warning.words for warning in late_deliveries(phase.job)]
    assert len(said) == (1 if words else 0)
    assert words in "".join(said)


def test_it_is_said_once_an_order_by_the_phase_that_starts_first(phase, today):
    first = make.phase(job=phase.job, title="Lining", planned_start=today + timedelta(days=1))
    make.order(weights={phase: "1", first: "1"}, state="placed", expected_on=today + timedelta(days=5))
    [warning] = late_deliveries(phase.job)
    assert "Lining starts on" in warning.words


def test_lines_that_are_all_here_are_late_for_nothing(phase):
    order = coming(phase, 9, "part")
    order.lines.update(received=10)
    assert list(late_deliveries(phase.job)) == []


def test_the_job_page_says_it_to_everybody_who_works_on_it(as_maker, phase):
    order = coming(phase, 4)
    page = as_maker.get(phase.job.get_absolute_url())
    assert says(page, f"Order {order.number}", "Bunk starts on", order.get_absolute_url())


def test_the_calendar_says_it_in_the_title(phase, today):
    coming(phase, 4)
    coming(phase, 2, number="P-in-time")
    late, fine = sorted(delivery_events(today), key=lambda event: event.first, reverse=True)
    assert late.title.startswith(f"Too late, Bunk starts on {phase.planned_start:%-d %b}: Delivery from")
    assert fine.title.startswith("Delivery from")


@pytest.mark.parametrize(("lead_days", "there"), [(0, False), (3, False), (4, True)])
def test_the_purchase_list_says_what_comes_too_late_if_ordered_today(as_owner, phase, lead_days, there):
    oil = make.material(name="Oil", kind="liquid", unit="l")
    make.price("20.00", size=make.size(material=oil, length_mm10=None))
    make.amount_taken_off(oil, "2", phase=phase)
    Supplier.objects.update(lead_days=lead_days)
    page = as_owner.get(reverse("materials:purchase", args=[phase.job.pk]))
    assert says(page, "Ordered today it comes about") is there


@pytest.mark.parametrize("count", [1, 3])
def test_queries_of_the_job_page_do_not_grow_with_orders(as_owner, phase, count, monkeypatch):
    monkeypatch.setattr(job_links, "_job_links", {})  # what other pages say of the job is theirs to count
    for _ in range(count):
        coming(phase, 4)
    assert queries_of(as_owner, phase.job.get_absolute_url()) == 16


@pytest.mark.parametrize("count", [1, 3])
def test_the_calendar_takes_two_queries(phase, count, django_assert_num_queries):
    for _ in range(count):
        coming(phase, 4)
    with django_assert_num_queries(2):
        delivery_events(date(2020, 1, 1))
