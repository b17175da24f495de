"""How does a draft become a paper that stands? Drawn outside the transaction, frozen inside it, once."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from jobs.enums import ChangeState, JobState
from jobs.history import record
from jobs.models import Person
from jobs.paper_pdf import logo_address
from jobs.refusals import RefusedError
from jobs.services.jobs import move_job
from jobs.workshop import current_workshop
from quotes.enums import DocumentKind, QuoteState
from quotes.models import ChangeNote, IssuedDocument, Quote
from quotes.papers.compose import compose
from quotes.papers.drawing import paper_pdf
from quotes.papers.keeping import to_kept
from quotes.papers.paper import Paper
from quotes.pricing import PricingError
from quotes.pricing.tax_numbers import charged_unregistered
from quotes.queries.figures import Rates, figures_of, rates_to_keep
from quotes.services.changes import refuse_left_out_twice
from quotes.services.states import locked_in_family, refuse_if_agreed, step_change, step_quote

SUPERSEDED_BY_ISSUE = (QuoteState.ISSUED, QuoteState.LAPSED, QuoteState.DECLINED)
STANDS = (QuoteState.ISSUED, QuoteState.ACCEPTED)


@dataclass(frozen=True)
class Prepared:
    """A draft drawn as a paper, and the version of the draft it was drawn from."""

    version: int
    paper: Paper
    rates: Rates
    pdf: bytes


def issue(*, quote: Quote, person: Person) -> Quote:
    """Issue a draft: freeze what is shown, keep the PDF with its hash, supersede earlier revisions.

    Asked for twice, the second answer is the quote issued by the first. Refused when a line was saved while
    the PDF was drawn, so that paper and figures never differ.
    """
    fresh = Quote.objects.select_related("job__client", "change").get(pk=quote.pk)
    return _freeze(fresh, prepare(fresh), person) if fresh.is_draft else fresh


def prepare(quote: Quote) -> Prepared:
    """Check that a draft can be issued and draw it; no transaction is open meanwhile."""
    workshop, today = current_workshop(), timezone.localdate()
    try:
        figures = figures_of(quote, on=today)
        if not figures.rows:
            raise RefusedError("There is nothing on it yet.")
        if workshop.not_registered_for_tax and (why := charged_unregistered(figures.rates_used)):
            raise RefusedError(why)
        paper = compose(figures, workshop=workshop, dated=today)
    except PricingError as error:
        raise RefusedError(str(error)) from error
    return Prepared(quote.version, paper, figures.rates, paper_pdf(paper, logo=logo_address()))


@transaction.atomic
def _freeze(quote: Quote, prepared: Prepared, person: Person) -> Quote:
    row, family = locked_in_family(quote)
    if not row.is_draft:
        return row
    refuse_if_agreed(family)
    if row.version != prepared.version:
        raise RefusedError("A line was saved while the paper was drawn. Look it over and issue again.")
    refuse_left_out_twice(row)
    row.document = IssuedDocument.objects.create(
        job=row.job,
        kind=DocumentKind.CHANGE if row.is_change_order else DocumentKind.QUOTE,
        name=f"{row.number} revision {row.revision}.pdf",
        content=prepared.pdf,
        sha256=hashlib.sha256(prepared.pdf).hexdigest(),
        issued_by=person,
    )
    row.snapshot = {"paper": to_kept(prepared.paper), "rates": rates_to_keep(prepared.rates)}
    row.valid_until = prepared.paper.valid_until
    row.issued_at, row.issued_by = timezone.now(), person
    kept = ["document", "snapshot", "valid_until", "issued_at", "issued_by"]
    step_quote(row, QuoteState.ISSUED, person=person, also=kept)
    _supersede_earlier(row, family, person)
    _tell_the_job(row, person)
    return row


def _supersede_earlier(quote: Quote, family: Sequence[Quote], person: Person) -> None:
    for row in family:
        if row.revision < quote.revision and row.state in SUPERSEDED_BY_ISSUE:
            step_quote(row, QuoteState.SUPERSEDED, person=person)


def _tell_the_job(quote: Quote, person: Person) -> None:
    """A first quote makes an enquiry a quoted job; a change order stands as issued in the job's register."""
    if quote.change_id is None:
        if quote.job.state == JobState.ENQUIRY:
            move_job(quote.job, to=JobState.QUOTED, person=person)
        return
    step_change(quote.change_id, ChangeState.ISSUED, person=person)
    said = ChangeNote.objects.filter(change=quote.change_id, confirmed_at=None).exclude(words="")
    said.update(confirmed_at=timezone.now())


@transaction.atomic
def extend(*, quote: Quote, days: int, person: Person) -> Quote:
    """Let a quote stand for more days from today; one that had lapsed stands again."""
    if not 1 <= days <= 365:
        raise RefusedError("Extend it by 1 to 365 days.")
    row, family = locked_in_family(quote)
    refuse_if_agreed(family)
    if row.state not in (QuoteState.ISSUED, QuoteState.LAPSED):
        raise RefusedError("Only a quote that waits for an answer can be extended.")
    refuse_left_out_twice(row)
    before = {"valid_until": str(row.valid_until)}
    row.valid_until = timezone.localdate() + timedelta(days=days)
    row.state = QuoteState.ISSUED
    row.save(update_fields=["valid_until", "state"])
    record(
        person=person,
        thing=row,
        action="extended",
        job=row.job,
        before=before,
        after={"valid_until": str(row.valid_until)},
    )
    return row


@transaction.atomic
def withdraw(*, quote: Quote, person: Person) -> Quote:
    """Take a quote or change order back before it is answered.

    A change stays where it is in the register while another revision of its order is out or agreed.
    """
    row, family = locked_in_family(quote)
    step_quote(row, QuoteState.WITHDRAWN, person=person)
    if not any(each.state in STANDS for each in family):
        step_change(row.change_id, ChangeState.WITHDRAWN, person=person)
    return row
