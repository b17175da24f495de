"""Which state does a quote go to next? The one place where it changes."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils import timezone

from jobs.enums import ChangeState
from jobs.history import record
from jobs.models import Change, Person
from jobs.refusals import RefusedError
from quotes.enums import QUOTE_STEPS, QuoteState
from quotes.models import Quote

DECIDED = frozenset({QuoteState.ACCEPTED, QuoteState.DECLINED})


def revisions_locked(quote: Quote) -> list[Quote]:
    """Every revision of a quote, locked, the first one first: whoever locks more than one does it so."""
    rows = Quote.objects.select_for_update(of=("self",)).select_related("job").filter(number=quote.number)
    return list(rows.order_by("revision"))


def locked_in_family(quote: Quote) -> tuple[Quote, list[Quote]]:
    """The quote itself, and all its revisions with it: none can be issued or answered meanwhile."""
    family = revisions_locked(quote)
    return next(each for each in family if each.pk == quote.pk), family


def refuse_if_agreed(family: Sequence[Quote]) -> None:
    """One revision is the contract: no other can go out or be agreed beside it."""
    for row in family:
        if row.state == QuoteState.ACCEPTED:
            raise RefusedError(
                f"Revision {row.revision} of it is agreed. What has to be different now is a change order."
            )


def step_change(change_id: int | None, state: ChangeState, *, person: Person | None) -> None:
    """The change in the job's register stands where its change order does; nothing for a quote of none."""
    if change_id is None:
        return
    change = Change.objects.select_for_update(of=("self",)).select_related("job").get(pk=change_id)
    if change.state == state:
        return
    before, change.state = {"state": change.state}, state
    change.agreed_at = timezone.now() if state == ChangeState.AGREED else change.agreed_at
    change.save(update_fields=["state", "agreed_at"])
    after = {"state": state.value}
    record(person=person, thing=change, action=state.label, job=change.job, before=before, after=after)


def cancel_quote(quote: Quote, *, person: Person, reason: str) -> None:
    """A locked quote that was agreed counts no more, nor does its change. Its paper and its answer stay."""
    before = {"state": quote.state}
    quote.state = QuoteState.WITHDRAWN
    quote.save(update_fields=["state"])
    after = {"state": quote.state, "reason": reason}
    record(person=person, thing=quote, action="cancelled", job=quote.job, before=before, after=after)
    step_change(quote.change_id, ChangeState.WITHDRAWN, person=person)


def step_quote(quote: Quote, state: QuoteState, *, person: Person | None, also: Sequence[str] = ()) -> None:
    """Take a locked quote to its next state and write down who did it; `also` names fields set besides."""
    if quote.state == state:
        return
    if state not in QUOTE_STEPS[quote.state]:
        raise RefusedError(f"It is {quote.get_state_display()} and cannot be {state.label} any more.")
    before = quote.state
    quote.state = state
    fields = ["state", *also]
    if state in DECIDED:
        quote.decided_at = timezone.now()
        fields.append("decided_at")
    quote.save(update_fields=fields)
    record(
        person=person,
        thing=quote,
        action=state.label,
        job=quote.job,
        before={"state": before},
        after={"state": state},
    )
