"""What an agreed change does besides the price: dates move, mass is added; shown before it is agreed."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.models import HistoryEntry, Job
from quotes.queries.quotes import quotes_of_job
from quotes.queries.sheet import paper_of
from quotes.services import changes, issuing
from tests import make
from tests.checks import says

pytestmark = pytest.mark.usefixtures("workshop")


@pytest.fixture
def contract():
    """Lining from Monday 1 June 2026 for five days, then the bunk; the job ends on Friday 12 June."""
    job = make.job(ends_on=date(2026, 6, 12))
    make.phase(job=job, title="Lining", position=1, planned_start=date(2026, 6, 1), planned_days=5)
    make.phase(job=job, title="Bunk", position=2, planned_start=date(2026, 6, 8), planned_days=5)
    return make.answer(make.issued_quote(200, job=job)).quote


def order_of(contract, owner, **fields):
    """A change order of twelve hours at eight a day on the lining, with 3.4 kg of board."""
    change = changes.raise_change(job=contract.job, person=owner, title="Second shelf")
    order = changes.price_change(change=change, person=owner)
    phase = contract.job.phases.get(title="Lining")
    plain = {"kind": "labour", "hours": Decimal(12), "unit_cost": Decimal(20)}
    make.quote_line(quote=order, phase=phase, **plain | fields)
    make.quote_line(30, quote=order, phase=phase, mass_kg=Decimal("3.4"))
    return order


def dates_of(job):
    return list(job.phases.order_by("position").values_list("planned_start", "planned_days"))


AS_PLANNED = [(date(2026, 6, 1), 5), (date(2026, 6, 8), 5)]


def test_agreed_it_moves_what_follows_and_the_end(contract, owner):
    order = issuing.issue(quote=order_of(contract, owner), person=owner)
    assert dates_of(contract.job) == AS_PLANNED
    make.answer(order)
    assert dates_of(contract.job) == [(date(2026, 6, 1), 7), (date(2026, 6, 10), 5)]
    assert Job.objects.get().ends_on == date(2026, 6, 16)
    assert HistoryEntry.objects.filter(action="moved with a change").count() == 3


def test_refused_it_moves_nothing(contract, owner):
    make.answer(issuing.issue(quote=order_of(contract, owner), person=owner), says="declined")
    assert dates_of(contract.job) == AS_PLANNED


def test_the_desk_shows_what_would_move(contract, owner, as_owner):
    order = order_of(contract, owner)
    page = as_owner.get(reverse("quotes:desk", args=[order.pk]))
    assert says(page, "Dates once it is agreed", "8 Jun 2026 → 10 Jun 2026", "5 → 7", "ends on 16 Jun 2026")
    assert dates_of(contract.job) == AS_PLANNED


def test_the_client_reads_the_end_before_agreeing(contract, owner, as_stranger):
    order = issuing.issue(quote=order_of(contract, owner), person=owner)
    change = paper_of(order).change
    assert (change.ends_before, change.ends_after) == (date(2026, 6, 12), date(2026, 6, 16))
    page = as_stranger.get(reverse("quotes:link", args=[make.link_to(order)]))
    assert says(page, "12 June 2026", "16 June 2026", "3.4")


def test_hours_left_out_shorten_their_phase_and_bring_nothing_forward(owner):
    job = make.job(ends_on=date(2026, 6, 12))
    lining = make.phase(job=job, position=1, planned_start=date(2026, 6, 1), planned_days=5)
    make.phase(job=job, position=2, planned_start=date(2026, 6, 8), planned_days=5)
    draft = make.quote(job=job)
    make.quote_line(20, quote=draft, phase=lining, kind="labour", hours=Decimal(16))
    contract = make.answer(issuing.issue(quote=draft, person=owner)).quote
    change = changes.raise_change(job=job, person=owner, title="Less")
    order = changes.price_change(change=change, person=owner)
    changes.omit_line(order=order, line=contract.lines.get(), percent=Decimal(50), person=owner)
    make.answer(issuing.issue(quote=order, person=owner))
    assert dates_of(job) == [(date(2026, 6, 1), 4), (date(2026, 6, 8), 5)]
    assert Job.objects.get().ends_on == date(2026, 6, 12)


def test_the_log_and_the_job_say_the_mass_and_the_days(contract, owner, as_owner):
    make.answer(issuing.issue(quote=order_of(contract, owner), person=owner))
    (row,) = quotes_of_job(contract.job_id).changes
    assert (row.days, row.mass_kg) == (2, Decimal("3.4"))
    assert says(as_owner.get(reverse("quotes:of_job", args=[contract.job_id])), "+2 working days", "+3.4 kg")
    assert says(as_owner.get(contract.job.get_absolute_url()), "Mass agreed", "3.4")


def test_a_mass_over_the_limit_is_pointed_out(contract, owner, as_owner):
    Job.objects.update(gross_mass_limit_kg=Decimal(750), empty_mass_kg=Decimal(748))
    make.answer(issuing.issue(quote=order_of(contract, owner), person=owner))
    assert says(as_owner.get(contract.job.get_absolute_url()), "over the limit", "Weigh it")


def test_a_quote_for_what_has_a_limit_says_the_mass_on_its_paper(owner, as_owner):
    draft = make.quote()
    Job.objects.update(gross_mass_limit_kg=Decimal(750))
    make.quote_line(quote=draft, mass_kg=Decimal("12.5"))
    assert says(as_owner.get(reverse("quotes:desk", args=[draft.pk])), "12.5")
    assert paper_of(issuing.issue(quote=draft, person=owner)).mass_kg == 13  # about: no grams to a client
