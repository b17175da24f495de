"""How does a contract end that was agreed and is not to be carried out?"""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction

from jobs.enums import ChangeState, JobState
from jobs.models import BudgetEntry, Job, Person
from jobs.refusals import RefusedError
from jobs.services.jobs import move_job
from quotes.enums import InvoiceState, QuoteState
from quotes.models import Invoice, Quote
from quotes.queries.invoices import account_of
from quotes.queries.quotes import WORKED_ON
from quotes.services.states import cancel_quote, step_change, step_quote

STANDING = (QuoteState.DRAFT, QuoteState.ISSUED, QuoteState.ACCEPTED)
FIGURES = ("hours", "labour_cost", "material_cost", "other_cost", "price", "mass_kg", "days")


@transaction.atomic
def cancel_contract(*, job: Job, person: Person, reason: str) -> Job:
    """Nothing is agreed any more: quote and change orders are withdrawn, the budget stands at nothing by
    opposite entries, and a job that was won is lost. Papers, answers, hours and costs stay.

    Cancelled already, nothing changes. Refused without a reason, for a job that is worked on, and while an
    invoice stands.
    """
    rows = Quote.objects.select_for_update(of=("self", "job")).select_related("job").order_by("pk")
    standing = list(rows.filter(job=job, state__in=STANDING).defer("snapshot"))
    agreed = [quote for quote in standing if quote.state == QuoteState.ACCEPTED]
    if not agreed:
        return Job.objects.get(pk=job.pk)
    row = agreed[0].job
    _check(row, reason)
    _write_back(agreed, person)
    for quote in agreed:
        cancel_quote(quote, person=person, reason=reason.strip())
    for order in standing:
        if order.is_change_order:
            step_quote(order, QuoteState.WITHDRAWN, person=person)
            step_change(order.change_id, ChangeState.WITHDRAWN, person=person)
    return move_job(row, to=JobState.LOST, person=person) if row.state == JobState.WON else row


def _check(job: Job, reason: str) -> None:
    if not reason.strip():
        raise RefusedError("Say why the contract is cancelled.")
    if job.state in WORKED_ON:
        raise RefusedError(
            f"The job is “{job.get_state_display()}”. Leave out by a change order what is not to be made,"
            " or take the job back to “won” first."
        )
    if any(account_of(job).invoiced.values()):
        raise RefusedError("An invoice was issued for it. Credit it in full first.")
    if Invoice.objects.filter(job=job, state=InvoiceState.DRAFT).exists():
        raise RefusedError("An invoice or credit note is drawn up for it. Remove that draft first.")


def _write_back(agreed: Sequence[Quote], person: Person) -> None:
    """An opposite entry for each that these quotes put into the budget."""
    put_in = BudgetEntry.objects.filter(
        phase__job=agreed[0].job_id, source_ref__in=[str(quote) for quote in agreed]
    )
    BudgetEntry.objects.bulk_create(
        BudgetEntry(
            phase_id=entry.phase_id,
            source=entry.source,
            source_ref=f"{entry.source_ref}, cancelled",
            change_id=entry.change_id,
            entered_by=person,
            **{name: -getattr(entry, name) for name in FIGURES},
        )
        for entry in put_in
    )
