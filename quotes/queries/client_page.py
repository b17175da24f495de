"""What does a client see who comes with a link? Nothing but the paper, its answer and its thread."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from django.db.models import Q
from django.utils import timezone

from jobs.models import Phase
from quotes.enums import QuoteState
from quotes.models import ClientLink, Decision, Message, Quote
from quotes.papers.compose import stages_of, taxes_of
from quotes.papers.paper import Paper, PaperStage, PaperTax
from quotes.pricing import PricingError, Totals
from quotes.queries.figures import figures_of
from quotes.queries.sheet import paper_of
from quotes.services.links import hash_of

SHOWN = (
    QuoteState.ISSUED,
    QuoteState.ACCEPTED,
    QuoteState.DECLINED,
    QuoteState.SUPERSEDED,
    QuoteState.LAPSED,
)


@dataclass(frozen=True)
class Chosen:
    """The totals with the extras that are ticked; `trouble` says why a choice cannot be."""

    keys: frozenset[str]
    totals: Totals | None
    taxes: tuple[PaperTax, ...]
    stages: tuple[PaperStage, ...]
    trouble: str = ""


@dataclass(frozen=True)
class ClientPage:
    """The page behind a link."""

    link: ClientLink
    quote: Quote
    paper: Paper
    sha256: str
    chosen: Chosen
    newest: Quote | None
    messages: tuple[Message, ...]
    decision: Decision | None
    progress: tuple[Phase, ...]
    today: date

    @property
    def has_lapsed(self) -> bool:
        """Whether its last day is past without an answer."""
        last = self.quote.valid_until
        open_states = (QuoteState.ISSUED, QuoteState.LAPSED)
        return self.quote.state in open_states and last is not None and last < self.today

    @property
    def waits(self) -> bool:
        """Whether the client may answer now."""
        return self.quote.state == QuoteState.ISSUED and not self.has_lapsed


def open_link(token: str) -> ClientLink | None:
    """The link of a token if it still opens the door."""
    return (
        ClientLink.objects.select_related("quote")
        .filter(token_hash=hash_of(token), withdrawn_at=None, expires_at__gt=timezone.now())
        .first()
    )


def quote_of_link(link: ClientLink, revision: int | None) -> Quote | None:
    """The quote the link was made for, or a later revision of it; nothing else opens."""
    return (
        Quote.objects.select_related("job__client", "document", "decision", "change")
        .defer("document__content")
        .filter(
            number=link.quote.number,
            revision=revision or link.quote.revision,
            revision__gte=link.quote.revision,
        )
        .filter(Q(state__in=SHOWN) | Q(decision__isnull=False))  # what was answered can always be read again
        .first()
    )


def client_page(link: ClientLink, quote: Quote, ticked: Collection[str] | None = None) -> ClientPage:
    """The page of a quote, with the totals of the extras ticked or, once accepted, agreed."""
    paper = paper_of(quote)
    assert paper is not None
    assert quote.document is not None
    decision = getattr(quote, "decision", None)
    agreed = [option["key"] for option in decision.options] if decision else []
    newest = (
        Quote.objects.filter(number=quote.number, revision__gt=quote.revision, state__in=SHOWN)
        .order_by("-revision")
        .defer("snapshot")
        .first()
    )
    return ClientPage(
        link=link,
        quote=quote,
        paper=paper,
        sha256=quote.document.sha256,
        chosen=chosen_totals(quote, paper, agreed if decision else ticked or ()),
        newest=newest,
        messages=tuple(Message.objects.filter(quote__number=quote.number)),
        decision=decision,
        progress=_progress(quote),
        today=timezone.localdate(),
    )


def _progress(quote: Quote) -> tuple[Phase, ...]:
    """How far each phase is, if the maker lets the client see it and the work is agreed."""
    if not quote.shows_progress or quote.state != QuoteState.ACCEPTED:
        return ()
    return tuple(Phase.objects.filter(job=quote.job_id).only("title", "percent_done", "percent_done_at"))


def chosen_totals(quote: Quote, paper: Paper, keys: Collection[str]) -> Chosen:
    """What the quote comes to with some extras; without any it is what the paper says."""
    if not keys:
        return Chosen(frozenset(), None, paper.taxes, paper.stages)
    try:
        priced = figures_of(quote, on=paper.dated, chosen=frozenset(keys)).priced
    except PricingError as error:
        return Chosen(frozenset(keys), None, paper.taxes, paper.stages, str(error))
    return Chosen(frozenset(keys), priced.totals, taxes_of(priced, paper.locale), stages_of(quote, priced))
