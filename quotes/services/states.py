"""Which state does a quote go to next? The one place where it changes."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils import timezone

from jobs.history import record
from jobs.models import Person
from jobs.refusals import RefusedError
from quotes.enums import QUOTE_STEPS, QuoteState
from quotes.models import Quote

DECIDED = frozenset({QuoteState.ACCEPTED, QuoteState.DECLINED})


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
