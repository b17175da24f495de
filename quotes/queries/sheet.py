"""What became of a quote after it went out?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils import timezone

from jobs.models import Outbox
from jobs.money import ZERO
from quotes.enums import QuoteState
from quotes.models import ClientLink, Decision, LinkEvent, Message, Quote
from quotes.papers.keeping import from_kept
from quotes.papers.paper import Paper
from quotes.queries.letters import letters_with_quote


@dataclass(frozen=True)
class Sheet:
    """An issued quote with its link, its trail, its thread and its answer."""

    quote: Quote
    paper: Paper | None
    open_link: ClientLink | None
    events: tuple[LinkEvent, ...]
    messages: tuple[Message, ...]
    decision: Decision | None
    revisions: tuple[Quote, ...]
    letters: tuple[Outbox, ...]
    today: date

    @property
    def without_tax(self) -> Decimal:
        """What was agreed, or else what is offered, without tax."""
        return self._total("without_tax")

    @property
    def with_tax(self) -> Decimal:
        """The same with tax."""
        return self._total("with_tax")

    def _total(self, name: str) -> Decimal:
        if self.decision:
            return Decimal(self.decision.totals[name])
        return Decimal(getattr(self.paper, name)) if self.paper else ZERO

    @property
    def waits(self) -> bool:
        """Whether the client may still answer."""
        return self.quote.state == QuoteState.ISSUED and not self.has_lapsed

    @property
    def has_lapsed(self) -> bool:
        """Whether its last day is past without an answer."""
        last = self.quote.valid_until
        waiting = self.quote.state in (QuoteState.ISSUED, QuoteState.LAPSED)
        return waiting and last is not None and last < self.today


def sheet_of(quote: Quote) -> Sheet:
    """Everything about an issued quote but its figures: six queries."""
    links = ClientLink.objects.filter(
        quote__number=quote.number, withdrawn_at=None, expires_at__gt=timezone.now()
    )
    thread = Message.objects.filter(quote__number=quote.number)
    return Sheet(
        quote=quote,
        paper=paper_of(quote),
        open_link=links.first(),
        events=tuple(quote.events.all()),
        messages=tuple(thread),
        decision=getattr(quote, "decision", None),
        revisions=tuple(Quote.objects.filter(number=quote.number).order_by("revision").defer("snapshot")),
        letters=tuple(letters_with_quote(quote)),
        today=timezone.localdate(),
    )


def paper_of(quote: Quote) -> Paper | None:
    """The paper as it was issued."""
    return from_kept(Paper, quote.snapshot["paper"]) if quote.snapshot else None
