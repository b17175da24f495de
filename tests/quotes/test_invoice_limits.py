"""No more is invoiced than was agreed, no more credited than was invoiced, in whatever order it is asked."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.models import TaxRate
from jobs.refusals import RefusedError
from quotes.models import Invoice
from quotes.queries.invoices import account_of, overdue, owed_of, statement
from quotes.services import changes, invoicing, issuing, payments
from tests import make
from tests.checks import says

pytestmark = pytest.mark.usefixtures("workshop")


@pytest.fixture
def issue(owner):
    return lambda draft: invoicing.issue_invoice(invoice=draft, person=owner)


def stage(job, owner, at=0):
    return invoicing.draft_stage(job=job, stage=at, person=owner)


def rest(job, owner, held=0):
    return invoicing.draft_rest(job=job, person=owner, retention_percent=Decimal(held))


def credit(invoice, owner, amount=None):
    amount = amount and Decimal(amount)
    return invoicing.draft_credit(invoice=invoice, person=owner, amount=amount)


def left_out(job, owner, percent=100):
    """A change order that leaves the first line of the contract out, agreed."""
    order = changes.price_change(change=make.change(job=job), person=owner)
    line = job.quotes.get(change=None).lines.first()
    changes.omit_line(order=order, line=line, percent=Decimal(percent), person=owner)
    return make.answer(issuing.issue(quote=order, person=owner))


def two_rates(owner):
    """1,000 at the standard rate in one phase and 1,000 at 5 % in another, half on acceptance."""
    TaxRate.objects.create(name="Reduced", percent=Decimal(5), from_date=date(2020, 1, 1))
    halves = [{"title": title, "percent": "50"} for title in ("Deposit", "Handover")]
    draft = make.quote(payment_stages=halves)
    make.quote_line(1000, quote=draft, tax_name="Reduced")
    make.quote_line(1000, quote=draft, phase=make.phase(job=draft.job, title="Second"))
    return make.answer(issuing.issue(quote=draft, person=owner)).quote.job


def test_of_two_drafts_of_the_rest_one_is_issued(owner, issue):
    job = make.contract(1000)
    first, second = rest(job, owner), rest(job, owner)
    issue(first)
    with pytest.raises(RefusedError, match="Nothing is left"):
        issue(second)
    assert account_of(job).invoiced_sum == 1000


def test_a_stage_beyond_what_is_left_is_refused(owner, issue):
    job = make.contract(1000)
    job.phases.update(percent_done=Decimal(60))
    issue(invoicing.draft_progress(job=job, person=owner))
    issue(stage(job, owner, 0))
    with pytest.raises(RefusedError, match=r"Only £100\.00 is left"):
        stage(job, owner, 1)


def test_a_draft_from_before_a_change_is_not_issued_beyond_the_contract(owner, issue):
    job = make.contract(400, 600)
    draft = rest(job, owner)
    left_out(job, owner)
    with pytest.raises(RefusedError, match=r"Only £600\.00 is left"):
        issue(draft)


def test_what_is_invoiced_too_much_is_said_and_to_be_credited(owner, issue, as_owner):
    job = make.contract(400, 600, stages=(70, 30))
    invoice = issue(stage(job, owner))
    left_out(job, owner)
    assert account_of(job).over_invoiced == 100
    assert says(as_owner.get(f"/quotes/job/{job.pk}/invoices/"), "£100.00 more is invoiced", "nothing left")
    for ask in (lambda: stage(job, owner, 1), lambda: rest(job, owner)):
        with pytest.raises(RefusedError, match=r"£100\.00 more is invoiced"):
            ask()
    issue(credit(invoice, owner, 100))
    assert account_of(job).left_sum == 0


@pytest.mark.parametrize(("amount", "issued"), [(50, True), (None, False)])
def test_a_stage_credited_in_part_or_by_a_draft_is_not_asked_for_again(owner, issue, amount, issued):
    job = make.contract(1000)
    note = credit(issue(stage(job, owner)), owner, amount)
    if issued:
        issue(note)
    with pytest.raises(RefusedError, match="already invoiced"):
        stage(job, owner)


def test_a_stage_credited_in_full_is_asked_for_again(owner, issue):
    job = make.contract(1000)
    issue(credit(issue(stage(job, owner)), owner))
    assert stage(job, owner).without_tax == 300


def test_of_two_drafts_of_a_credit_one_is_issued(owner, issue):
    invoice = issue(stage(make.contract(1000), owner))
    first, second = credit(invoice, owner), credit(invoice, owner)
    issue(first)
    with pytest.raises(RefusedError, match="No more can be credited"):
        issue(second)


def test_a_final_account_that_is_credited_and_redone_holds_back_again(owner, issue):
    job = make.contract(1000)
    issue(credit(issue(rest(job, owner, 5)), owner))
    again = rest(job, owner, 5)
    assert (again.kind, again.without_tax) == ("final", 950)


def test_what_is_agreed_after_the_final_account_stands_apart_from_the_retention(owner, issue):
    job = make.contract(1000)
    issue(rest(job, owner, 5))
    order = changes.price_change(change=make.change(job=job), person=owner)
    make.quote_line(200, quote=order)
    make.answer(issuing.issue(quote=order, person=owner))
    lines = list(rest(job, owner).lines.values_list("description", "net"))
    assert lines == [
        ("Release of the retention", 50),
        ("Agreed or credited since the final account", 200),
    ]


def test_a_finished_phase_is_invoiced_at_its_own_rate_of_tax(owner):
    job = two_rates(owner)
    job.phases.filter(title="Second").update(percent_done=Decimal(100))
    draft = invoicing.draft_progress(job=job, person=owner)
    assert list(draft.lines.values_list("net", "tax_percent")) == [(1000, 20)]
    assert draft.tax == 200


def test_percent_done_is_rounded_half_up_in_words_and_not_in_money(owner):
    job = make.contract(100_000)
    job.phases.update(percent_done=Decimal("12.25"))
    draft = invoicing.draft_progress(job=job, person=owner)
    assert draft.without_tax == 12_250
    assert "12.3 %" in draft.lines.get().description


def test_a_credit_in_full_mirrors_rates_below_nothing(owner, issue):
    job = two_rates(owner)
    issue(stage(job, owner))  # 500 at each rate
    left_out(job, owner, 80)  # of what bears 5 %, 200 are left
    final = issue(rest(job, owner))
    assert {line.tax_percent: line.net for line in final.lines.all()} == {20: 500, 5: -300}
    issue(credit(final, owner))
    final.refresh_from_db()
    (owed,) = owed_of(Invoice.objects.filter(pk=final.pk))
    assert (final.state, owed.open) == ("credited", 0)
    again = rest(job, owner)
    assert (again.without_tax, again.tax) == (200, 85)


def test_the_penny_that_taxes_of_credits_miss_is_owed_by_nobody(owner, issue):
    job = make.contract(100, stages=(100,))
    invoice = issue(stage(job, owner))
    for amount in ("33.32", "33.32", "33.36"):  # with their taxes 119.99 of 120.00
        issue(credit(invoice, owner, amount))
    Invoice.objects.filter(pk=invoice.pk).update(due_on=timezone.localdate() - timedelta(days=3))
    assert overdue() == ()
    last = statement(job.client)[-1]
    assert (last.words, last.asked, last.balance) == (
        f"Rounding of tax, {invoice.number}",
        Decimal("-0.01"),
        0,
    )


def test_money_finer_than_a_coin_is_neither_received_nor_credited(owner, issue):
    invoice = issue(stage(make.contract(1000), owner))
    with pytest.raises(RefusedError, match="smallest coin"):
        payments.receive(invoice=invoice, amount=Decimal("359.996"), on=date(2026, 3, 2), person=owner)
    with pytest.raises(RefusedError, match="smallest coin"):
        credit(invoice, owner, "0.005")


def test_a_statement_follows_the_numbers_of_a_day(owner, issue):
    job = make.contract(1000)
    later, first = stage(job, owner, 0), stage(job, owner, 1)
    numbers = [issue(draft).number for draft in (first, later)]
    assert [entry.words.split(",")[0] for entry in statement(job.client)] == [f"Invoice {n}" for n in numbers]


def test_the_page_says_what_each_stage_asks_for_and_how_it_stands(owner, issue, as_owner):
    job = make.contract(1000, stages=(30, 30, 40))
    issue(stage(job, owner, 0))
    stage(job, owner, 1)
    lines = as_owner.get(f"/quotes/job/{job.pk}/invoices/").context["stages"]
    assert [(line.net, line.is_used, line.is_drafted) for line in lines] == [
        (300, True, False),
        (300, True, True),
        (400, False, False),
    ]


def test_what_is_held_back_is_said_until_it_is_released(owner, issue, as_owner):
    job = make.contract(1000)
    address = f"/quotes/job/{job.pk}/invoices/"
    assert says(as_owner.get(address), "Retention held back, %")
    issue(rest(job, owner, 5))
    assert says(as_owner.get(address), "£50.00 of the final account is held back", "Release it")
    issue(rest(job, owner))
    assert says(as_owner.get(address), "Nothing is left to invoice")
