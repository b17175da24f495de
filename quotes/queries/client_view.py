"""What does the client see of a quote that is on the desk? The paper itself: no cost and no margin in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from jobs.workshop import current_workshop
from quotes.enums import Detail
from quotes.papers.compose import compose
from quotes.papers.paper import Paper
from quotes.queries.client_page import Chosen
from quotes.queries.figures import QuoteFigures
from quotes.queries.sheet import paper_of


@dataclass(frozen=True)
class LevelOfDetail:
    """One way to show the same figures; `is_set` is the way the quote goes out."""

    value: str
    label: str
    is_shown: bool
    is_set: bool


@dataclass(frozen=True)
class ClientView:
    """The offer as the client's page would show it. Nobody answers it from here."""

    paper: Paper
    chosen: Chosen
    levels: tuple[LevelOfDetail, ...]
    waits: bool = False


def client_view(figures: QuoteFigures, *, today: date, detail: str = "") -> ClientView:
    """The client's view at a level of detail (that of the quote if none is asked for); two queries more for a
    change order. An issued quote shows what was issued.
    """
    quote = figures.quote
    shown = detail if detail in Detail.values else quote.detail
    paper = paper_of(quote) or compose(figures, workshop=current_workshop(), dated=today)
    levels = (LevelOfDetail(each, each.label, each == shown, each == quote.detail) for each in Detail)
    return ClientView(
        paper=replace(paper, detail=shown),
        chosen=Chosen(frozenset(), None, paper.taxes, paper.stages),
        levels=tuple(levels),
    )
