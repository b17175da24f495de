"""What is issued stands: once, unchanged, with its hash."""

from __future__ import annotations

import hashlib
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import DatabaseError, transaction
from django.utils import timezone

from jobs.enums import JobState
from jobs.models import TaxRate, Workshop
from jobs.refusals import RefusedError
from quotes.models import IssuedDocument, Quote
from quotes.queries.figures import figures_of
from quotes.queries.sheet import paper_of
from quotes.services import drafting, issuing
from tests import make


def test_issue_freezes_paper_pdf_and_hash(owner):
    quote = make.issued_quote(100, by=owner)
    assert bytes(quote.document.content).startswith(b"%PDF")
    assert quote.document.sha256 == hashlib.sha256(bytes(quote.document.content)).hexdigest()
    assert paper_of(quote).with_tax == Decimal("120.00")
    assert quote.valid_until == timezone.localdate() + timedelta(days=30)


def test_a_first_quote_makes_an_enquiry_a_quoted_job(owner):
    quote = make.issued_quote(by=owner)
    quote.job.refresh_from_db()
    assert quote.job.state == JobState.QUOTED


def test_pressed_twice_it_is_issued_once(owner):
    draft = make.quote_line().quote
    twice = Quote.objects.get(pk=draft.pk)
    first, second = issuing.issue(quote=draft, person=owner), issuing.issue(quote=twice, person=owner)
    assert first.document == second.document
    assert IssuedDocument.objects.count() == 1


def test_a_line_saved_while_the_paper_is_drawn_stops_the_issue(owner):
    draft = make.quote_line().quote
    prepared = issuing.prepare(draft)
    drafting.remove_line(line=draft.lines.get(), person=owner)
    with pytest.raises(RefusedError, match="while the paper was drawn"):
        issuing._freeze(draft, prepared, owner)
    assert not IssuedDocument.objects.exists()


def test_an_empty_quote_is_not_issued(owner):
    with pytest.raises(RefusedError, match="nothing on it"):
        issuing.issue(quote=make.quote(job=make.phase().job), person=owner)


def test_a_rate_that_is_not_in_force_is_said_in_words(owner):
    line = make.quote_line(tax_name="Luxury")
    with pytest.raises(RefusedError, match="Luxury"):
        issuing.issue(quote=line.quote, person=owner)


def test_stages_that_do_not_add_up_are_refused(owner):
    quote = make.quote(payment_stages=[{"title": "Deposit", "percent": "30"}], job=make.phase().job)
    make.quote_line(quote=quote)
    with pytest.raises(RefusedError, match="100"):
        issuing.issue(quote=quote, person=owner)


def test_a_later_rate_of_tax_leaves_an_issued_quote_alone(owner):
    quote = make.issued_quote(100, by=owner)
    before = bytes(quote.document.content)
    TaxRate.objects.update(percent=Decimal(25))
    fresh = Quote.objects.get(pk=quote.pk)
    assert figures_of(fresh, on=timezone.localdate()).priced.totals.tax == Decimal("20.00")
    assert hashlib.sha256(bytes(fresh.document.content)).hexdigest() == hashlib.sha256(before).hexdigest()


@pytest.mark.django_db(transaction=True)
def test_the_database_refuses_to_change_an_issued_document(owner):
    document = make.issued_quote(by=owner).document
    with pytest.raises(DatabaseError, match="only ever added to"), transaction.atomic():
        IssuedDocument.objects.filter(pk=document.pk).update(content=b"other")


def test_the_next_revision_supersedes(owner):
    first = make.issued_quote(by=owner)
    second = issuing.issue(quote=drafting.revise(quote=first, person=owner), person=owner)
    first.refresh_from_db()
    assert (first.state, second.state, second.revision) == ("superseded", "issued", 2)


def test_a_lapsed_quote_stands_again_when_extended(owner):
    quote = make.issued_quote(by=owner)
    Quote.objects.update(valid_until=timezone.localdate() - timedelta(days=1), state="lapsed")
    extended = issuing.extend(quote=quote, days=14, person=owner)
    assert (extended.state, extended.valid_until) == ("issued", timezone.localdate() + timedelta(days=14))


@pytest.mark.parametrize("days", [0, 366, -5])
def test_extended_by_no_days_or_too_many_is_refused(owner, days):
    with pytest.raises(RefusedError, match="1 to 365"):
        issuing.extend(quote=make.issued_quote(by=owner), days=days, person=owner)


def test_what_is_answered_can_be_neither_extended_nor_taken_back(owner):
    quote = make.answer().quote
    with pytest.raises(RefusedError):
        issuing.extend(quote=quote, days=5, person=owner)
    with pytest.raises(RefusedError, match="accepted"):
        issuing.withdraw(quote=quote, person=owner)


def test_a_quote_that_charges_tax_is_refused_to_who_is_not_registered(owner):
    Workshop.objects.update(not_registered_for_tax=True)
    with pytest.raises(RefusedError, match="not registered"):
        issuing.issue(quote=make.quote_line().quote, person=owner)
