"""What happens when the client says yes or no? One transaction: answer, budget, states, letters."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from jobs.enums import BudgetSource, ChangeState, JobState
from jobs.models import BudgetEntry, Job, Person, Phase
from jobs.refusals import RefusedError
from jobs.services.jobs import move_job
from jobs.services.moving import move_dates
from jobs.workshop import current_workshop
from quotes.enums import Answer, LinkStep, QuoteState
from quotes.models import ClientLink, Decision, Quote
from quotes.pricing import PricedQuote, PricingError, phase_budgets, whole_days
from quotes.queries.dates import added_days
from quotes.queries.figures import figures_of, totals_to_keep
from quotes.services.changes import refuse_left_out_twice
from quotes.services.letters import confirm_to_client, tell_workshop_of_answer
from quotes.services.links import Caller, note
from quotes.services.states import (
    locked_in_family,
    refuse_if_agreed,
    revisions_locked,
    step_change,
    step_quote,
)

LONGEST_NAME = 120


@dataclass(frozen=True)
class Reply:
    """What the client typed and ticked, and the hash of the document in front of them."""

    name: str
    document_sha256: str
    options: Collection[str] = ()
    reason: str = ""


@transaction.atomic
def accept(*, link: ClientLink, quote: Quote, reply: Reply, caller: Caller) -> Decision:
    """The client agrees. The budget ledger takes the quote up, and the workshop is told.

    Refused when the quote lapsed, was superseded or withdrawn, the link was shut meanwhile, or the document
    is not the one that stands. A second yes from the same link is the first one again.
    """
    row, earlier = _open_for_answer(link, quote, reply, Answer.ACCEPTED)
    if earlier:
        return earlier
    priced = _priced(row, reply.options)
    decision = _decide(row, reply, priced, answer=Answer.ACCEPTED, caller=caller, link=link)
    take_up(row, priced, entered_by=None)
    confirm_to_client(decision)
    note(quote=row, link=link, caller=caller, step=LinkStep.ACCEPTED, detail=f"by {decision.name}")
    return decision


@transaction.atomic
def decline(*, link: ClientLink, quote: Quote, reply: Reply, caller: Caller) -> Decision:
    """The client says no, and why. Nothing enters the budget."""
    row, earlier = _open_for_answer(link, quote, reply, Answer.DECLINED)
    if earlier:
        return earlier
    decision = _decide(row, reply, _priced(row, ()), answer=Answer.DECLINED, caller=caller, link=link)
    _refuse(row, None)
    note(quote=row, link=link, caller=caller, step=LinkStep.DECLINED, detail=f"by {decision.name}")
    return decision


@transaction.atomic
def record_answer_on_paper(
    *, quote: Quote, person: Person, answer: Answer, reply: Reply, options: Collection[str] = ()
) -> Decision:
    """Enter an answer that came by letter or in person; the evidence names who entered it."""
    row, family = locked_in_family(quote)
    earlier = Decision.objects.filter(quote=row).first()
    if earlier:
        return earlier
    refuse_if_agreed([each for each in family if each is not row])
    _check_waiting(row)
    priced = _priced(row, options)
    decision = _decide(row, reply, priced, answer=answer, caller=Caller(), recorded_by=person)
    if answer == Answer.ACCEPTED:
        take_up(row, priced, entered_by=person)
    else:
        _refuse(row, person)
    return decision


def _refuse(quote: Quote, person: Person | None) -> None:
    step_quote(quote, QuoteState.DECLINED, person=person)
    step_change(quote.change_id, ChangeState.REFUSED, person=person)


def take_up(quote: Quote, priced: PricedQuote, *, entered_by: Person | None) -> None:
    """Make an accepted quote or change order part of the contract: states, budget ledger and dates."""
    refuse_left_out_twice(quote, beside={QuoteState.ACCEPTED})
    step_quote(quote, QuoteState.ACCEPTED, person=entered_by)
    _keep_choice(quote, priced)
    _drop_drafts_beside(quote, entered_by)
    if quote.change_id:
        step_change(quote.change_id, ChangeState.AGREED, person=entered_by)
    else:
        _win(quote.job, entered_by)
    _write_budget(quote, priced, entered_by)
    if quote.change_id:
        move_dates(job=quote.job, added=added_days(priced), person=entered_by)


def _win(job: Job, entered_by: Person | None) -> None:
    """A yes wins the job, one given up for lost too; further on it stays where it is."""
    if job.state == JobState.LOST:
        job = move_job(job, to=JobState.ENQUIRY, person=entered_by)
    if job.state in (JobState.ENQUIRY, JobState.QUOTED):
        move_job(job, to=JobState.WON, person=entered_by)


def _keep_choice(quote: Quote, priced: PricedQuote) -> None:
    """The extras that were agreed count from now on wherever the quote is read, and no others."""
    agreed = [int(each.line.key) for each in priced.options if each.counts]
    offered = quote.lines.filter(optional=True)
    offered.exclude(pk__in=agreed).update(chosen=False)
    offered.filter(pk__in=agreed).update(chosen=True)


def _drop_drafts_beside(quote: Quote, entered_by: Person | None) -> None:
    """A revision drawn up before the yes has nothing left to offer."""
    for row in revisions_locked(quote):
        if row.is_draft:
            step_quote(row, QuoteState.WITHDRAWN, person=entered_by)


def _write_budget(quote: Quote, priced: PricedQuote, entered_by: Person | None) -> None:
    phases = {str(phase.pk): phase for phase in Phase.objects.filter(job=quote.job_id)}
    from_change = quote.change_id is not None
    hours_a_day = current_workshop().hours_a_day
    BudgetEntry.objects.bulk_create(
        BudgetEntry(
            phase=phases[budget.phase],
            source=BudgetSource.CHANGE if from_change else BudgetSource.QUOTE,
            source_ref=str(quote),
            change_id=quote.change_id,
            hours=budget.hours,
            labour_cost=budget.labour_cost,
            material_cost=budget.material_cost,
            other_cost=budget.other_cost,
            price=budget.price,
            mass_kg=budget.mass_kg,
            days=whole_days(budget.hours, hours_a_day) if from_change else phases[budget.phase].planned_days,
            entered_by=entered_by,
        )
        for budget in phase_budgets(priced)
    )


def _open_for_answer(
    link: ClientLink, quote: Quote, reply: Reply, answer: Answer
) -> tuple[Quote, Decision | None]:
    """The quote, locked and waiting for an answer; or with the answer this link has already given."""
    row, family = locked_in_family(quote)
    fresh = ClientLink.objects.select_for_update().get(pk=link.pk)
    earlier = Decision.objects.filter(quote=row).first()
    if earlier and earlier.answer == answer:
        return row, earlier
    if fresh.withdrawn_at or fresh.expires_at <= timezone.now():
        raise RefusedError("This link was withdrawn. Please ask us for a new one.")
    refuse_if_agreed([each for each in family if each is not row])
    _check_waiting(row)
    if not row.document or row.document.sha256 != reply.document_sha256:
        raise RefusedError("The document has changed since you opened this page. Please read it again.")
    if not 0 < len(reply.name.strip()) <= LONGEST_NAME:
        raise RefusedError("Please type your name.")
    return row, None


def _check_waiting(quote: Quote) -> None:
    if quote.state == QuoteState.ISSUED and quote.valid_until and quote.valid_until < timezone.localdate():
        raise RefusedError("This offer lapsed on its last day. Please ask us whether the price still stands.")
    if quote.state != QuoteState.ISSUED:
        raise RefusedError(f"This offer is {quote.get_state_display()} and can't be answered any more.")


def _priced(quote: Quote, options: Collection[str]) -> PricedQuote:
    try:
        return figures_of(quote, on=timezone.localdate(), chosen=options).priced
    except PricingError as error:
        raise RefusedError(str(error)) from error


def _decide(
    quote: Quote,
    reply: Reply,
    priced: PricedQuote,
    *,
    answer: Answer,
    caller: Caller,
    link: ClientLink | None = None,
    recorded_by: Person | None = None,
) -> Decision:
    decision = Decision.objects.create(
        quote=quote,
        link=link,
        answer=answer,
        name=reply.name.strip(),
        reason=reply.reason.strip(),
        at=timezone.now(),
        address=caller.address[:60],
        browser=caller.browser[:300],
        document_sha256=quote.document.sha256 if quote.document else "",
        options=_options_in_words(quote, priced),
        totals=totals_to_keep(priced),
        recorded_by=recorded_by,
    )
    tell_workshop_of_answer(decision)
    return decision


def _options_in_words(quote: Quote, priced: PricedQuote) -> list[dict[str, str]]:
    names = {str(pk): words for pk, words in quote.lines.values_list("pk", "description")}
    return [
        {"key": each.line.key, "description": names[each.line.key], "price": str(each.price)}
        for each in priced.options
        if each.counts
    ]
