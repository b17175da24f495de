"""A contract is asked for in money, to the penny, under numbers without gaps."""

from __future__ import annotations

import threading
import uuid
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.utils import timezone

from jobs.models import TaxRate
from jobs.refusals import RefusedError
from quotes.models import Invoice, IssuedDocument, Payment
from quotes.papers.invoices import keep_paper, paper_of_invoice
from quotes.queries.invoices import account_of, overdue, owed_of, payments_of, statement
from quotes.services import invoicing, issuing, payments
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")
TODAY = date(2026, 3, 2)


def issued(job, owner, stage=0):
    draft = invoicing.draft_stage(job=job, stage=stage, person=owner)
    return invoicing.issue_invoice(invoice=draft, person=owner)


def owed(invoice):
    (row,) = owed_of(Invoice.objects.filter(pk=invoice.pk))
    return row


def test_stages_add_up_to_the_contract(owner):
    job = make.contract(1001, 333, stages=(33, 33, 34))
    for stage in range(3):
        issued(job, owner, stage)
    assert sum(Invoice.objects.values_list("without_tax", flat=True)) == 1334
    assert account_of(job).left == dict.fromkeys(account_of(job).contract, 0)


def test_a_stage_is_of_the_original_quote_and_a_change_is_in_the_rest(owner):
    job = make.contract(1000, stages=(40, 60))
    change = make.change(job=job)
    make.quote_line(200, quote=make.quote(job=job, change=change))
    make.answer(issuing.issue(quote=change.quotes.get(), person=owner))
    assert [issued(job, owner, stage).without_tax for stage in (0, 1)] == [400, 600]
    assert invoicing.draft_rest(job=job, person=owner).without_tax == 200


def test_a_stage_is_asked_for_once(owner):
    job = make.contract()
    invoicing.draft_stage(job=job, stage=0, person=owner)
    with pytest.raises(RefusedError, match="already invoiced"):
        invoicing.draft_stage(job=job, stage=0, person=owner)


@pytest.mark.parametrize("stage", [2, 99])
def test_a_stage_that_is_none_is_refused(owner, stage):
    with pytest.raises(RefusedError, match="no such"):
        invoicing.draft_stage(job=make.contract(), stage=stage, person=owner)


def test_work_done_is_asked_for_less_what_is_invoiced(owner):
    job = make.contract(1000, stages=(30, 70))
    issued(job, owner)
    job.phases.update(percent_done=Decimal(45))
    assert invoicing.draft_progress(job=job, person=owner).without_tax == 150
    job.phases.update(percent_done=Decimal(30))
    with pytest.raises(RefusedError, match="No more work"):
        invoicing.draft_progress(job=job, person=owner)


def test_the_final_account_holds_a_retention_back_and_releases_it(owner):
    job = make.contract(1000, stages=(30, 70))
    issued(job, owner)
    final = invoicing.draft_rest(job=job, person=owner, retention_percent=Decimal(5))
    assert (final.kind, final.without_tax, final.tax) == ("final", 650, 130)
    invoicing.issue_invoice(invoice=final, person=owner)
    release = invoicing.draft_rest(job=job, person=owner)
    assert (release.kind, release.without_tax) == ("retention", 50)
    invoicing.issue_invoice(invoice=release, person=owner)
    with pytest.raises(RefusedError, match="Nothing is left"):
        invoicing.draft_rest(job=job, person=owner)


def test_numbers_follow_one_another_and_a_removed_draft_takes_none(owner):
    job = make.contract(stages=(20, 30, 50))
    first = issued(job, owner)
    invoicing.remove_draft(invoice=invoicing.draft_stage(job=job, stage=1, person=owner), person=owner)
    second = issued(job, owner, 1)
    year = timezone.localdate().year
    assert (first.number, second.number) == (f"{year}-0001", f"{year}-0002")


def test_issued_twice_it_has_one_number_and_one_paper(owner):
    draft = make.invoice()
    first = invoicing.issue_invoice(invoice=draft, person=owner)
    second = invoicing.issue_invoice(invoice=draft, person=owner)
    assert (first.number, first.document) == (second.number, second.document)


def test_an_issued_invoice_is_not_removed(owner):
    with pytest.raises(RefusedError, match="credited, not removed"):
        invoicing.remove_draft(invoice=issued(make.contract(), owner), person=owner)


def test_a_paper_that_was_not_drawn_is_drawn_later_from_what_was_frozen(owner):
    row = invoicing._number(make.invoice(), owner)
    TaxRate.objects.update(percent=Decimal(25))
    assert row.document is None
    document = keep_paper(row)
    assert paper_of_invoice(row).tax == Decimal("6.00")
    assert keep_paper(row) == document
    assert IssuedDocument.objects.filter(kind="invoice").count() == 1


def test_payments_part_and_whole(owner):
    invoice = issued(make.contract(1000), owner)  # 300 and 60 tax
    payments.receive(invoice=invoice, amount=Decimal(100), on=TODAY, person=owner)
    assert (owed(invoice).open, owed(invoice).invoice.state) == (260, "part_paid")
    payments.receive(invoice=invoice, amount=Decimal(260), on=TODAY, person=owner)
    assert (owed(invoice).open, owed(invoice).invoice.state) == (0, "paid")


def test_the_same_payment_sent_twice_is_one(owner):
    invoice, key = issued(make.contract(1000), owner), uuid.uuid4()
    for _ in range(2):
        payments.receive(invoice=invoice, amount=Decimal(5), on=TODAY, person=owner, key=key)
    assert Payment.objects.count() == 1


@pytest.mark.parametrize("amount", ["0", "360.01", "-0.01"])
def test_more_than_is_owed_or_back_than_was_paid_is_refused(owner, amount):
    with pytest.raises(RefusedError, match="more than is owed"):
        payments.receive(
            invoice=issued(make.contract(1000), owner), amount=Decimal(amount), on=TODAY, person=owner
        )


def test_a_draft_takes_no_payment(owner):
    with pytest.raises(RefusedError, match="issued"):
        payments.receive(invoice=make.invoice(), amount=Decimal(1), on=TODAY, person=owner)


def test_a_credit_note_takes_off_what_is_owed(owner):
    invoice = issued(make.contract(1000), owner)
    note = invoicing.draft_credit(invoice=invoice, person=owner, amount=Decimal(50))
    invoicing.issue_invoice(invoice=note, person=owner)
    assert owed(invoice).open == 300
    whole = invoicing.draft_credit(invoice=invoice, person=owner)
    assert whole.without_tax == 250
    invoicing.issue_invoice(invoice=whole, person=owner)
    invoice.refresh_from_db()
    assert invoice.state == "credited"
    with pytest.raises(RefusedError, match="No more can be credited"):
        invoicing.draft_credit(invoice=invoice, person=owner)


def test_a_credited_stage_is_left_to_invoice_again(owner):
    job = make.contract(1000)
    note = invoicing.draft_credit(invoice=issued(job, owner), person=owner)
    invoicing.issue_invoice(invoice=note, person=owner)
    assert sum(account_of(job).left.values()) == 1000


def test_overdue_counts_its_days(owner):
    invoice = issued(make.contract(1000), owner)
    Invoice.objects.filter(pk=invoice.pk).update(due_on=timezone.localdate() - timedelta(days=9))
    assert [row.days_overdue for row in overdue()] == [9]
    payments.receive(invoice=invoice, amount=Decimal(360), on=TODAY, person=owner)
    assert overdue() == ()


def test_the_statement_runs_to_what_is_owed(owner):
    job = make.contract(1000)
    invoice = issued(job, owner)
    payments.receive(invoice=invoice, amount=Decimal(100), on=timezone.localdate(), person=owner)
    assert [entry.balance for entry in statement(job.client)] == [360, 260]


@pytest.mark.django_db(transaction=True)
def test_32_issues_at_once_leave_no_gap_and_no_double(owner):
    drafts = [make.invoice(make.contract(100 + at)) for at in range(32)]
    failures = []

    def number(draft):
        try:
            invoicing._number(draft, owner)
        except Exception as error:
            failures.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=number, args=[draft]) for draft in drafts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    numbers = sorted(Invoice.objects.values_list("number", flat=True))
    year = timezone.localdate().year
    assert numbers == [f"{year}-{at:04d}" for at in range(1, 33)]


def test_a_payment_entered_by_mistake_is_taken_back_once(owner):
    payment = make.payment(360)
    assert owed(payment.invoice).invoice.state == "paid"
    for _ in range(2):
        payments.take_back(payment=payment, person=owner)
    assert list(Payment.objects.values_list("amount", flat=True).order_by("pk")) == [360, -360]
    assert (owed(payment.invoice).open, owed(payment.invoice).invoice.state) == (360, "issued")
    assert [line.may_be_taken_back for line in payments_of(payment.invoice)] == [False, False]
