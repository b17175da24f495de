"""What does the quote desk show: lines by phase, the way from cost to price, the margin?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.models import Phase
from jobs.money import ZERO
from jobs.progress.moving import MovedPlan
from quotes.enums import LineKind
from quotes.models import Quote, QuoteLine
from quotes.pricing import PricedLine, PricedQuote, PricingError, Step, at_margin, waterfall
from quotes.queries.client_view import ClientView, client_view
from quotes.queries.dates import MovedPhase, moved_by, moved_phases
from quotes.queries.figures import QuoteFigures, figures_of

STEP_WORDS = {
    "overhead": "Overhead",
    "contingency": "Contingency",
    "markup": "Markup",
    "discount": "Discount",
    "tax": "Tax",
} | {kind.value: kind.label.capitalize() for kind in LineKind}
BAR_WIDTH = 240


@dataclass(frozen=True)
class DeskLine:
    """A line as kept and as priced."""

    row: QuoteLine
    priced: PricedLine

    @property
    def places(self) -> int:
        """Decimals that the quantity has, and no more."""
        return max(0, -int(self.row.quantity.normalize().as_tuple().exponent))


@dataclass(frozen=True)
class DeskPhase:
    """A phase with its lines and what they come to; options not chosen are listed but not counted."""

    phase: Phase
    lines: tuple[DeskLine, ...]
    hours: Decimal
    cost: Decimal
    price: Decimal


@dataclass(frozen=True)
class DrawnStep:
    """A step of the waterfall with its bar, in the units of a drawing BAR_WIDTH wide."""

    words: str
    amount: Decimal
    running: Decimal
    x: int
    width: int


@dataclass(frozen=True)
class Desk:
    """The whole desk. `trouble` says in words why the quote cannot be priced, then there are no figures."""

    quote: Quote
    phases: tuple[DeskPhase, ...]
    priced: PricedQuote | None
    steps: tuple[DrawnStep, ...]
    trouble: str
    other_margin: Decimal | None
    other: PricedQuote | None
    view: ClientView | None
    moved: MovedPlan | None = None
    moved_phases: tuple[MovedPhase, ...] = ()


def desk_of(quote: Quote, *, today: date, other_margin: Decimal | None = None, detail: str = "") -> Desk:
    """The desk of a quote with the client's view beside it: three queries beside the quote itself."""
    phases = list(Phase.objects.filter(job=quote.job_id))
    try:
        figures = figures_of(quote, on=today)
        other = _other(figures, other_margin)
    except PricingError as error:
        return Desk(quote, _bare_phases(quote, phases), None, (), str(error), None, None, None)
    moved = moved_by(figures) if quote.is_change_order and quote.is_draft else None
    return Desk(
        quote=quote,
        moved=moved,
        moved_phases=moved_phases(moved, phases) if moved else (),
        phases=tuple(_phase(phase, figures) for phase in phases),
        priced=figures.priced,
        steps=_drawn(waterfall(figures.priced)),
        trouble="",
        other_margin=other_margin,
        other=other,
        view=client_view(figures, today=today, detail=detail),
    )


def _other(figures: QuoteFigures, percent: Decimal | None) -> PricedQuote | None:
    if percent is None:
        return None
    return at_margin(figures.lines, figures.priced.rules, percent)


def _phase(phase: Phase, figures: QuoteFigures) -> DeskPhase:
    lines = [DeskLine(row, figures.of_row(row)) for row in figures.rows if row.phase_id == phase.pk]
    counted = [line.priced for line in lines if line.priced.counts]
    return DeskPhase(
        phase=phase,
        lines=tuple(lines),
        hours=sum((each.line.hours for each in counted), ZERO),
        cost=sum((each.cost for each in counted), ZERO),
        price=sum((each.price for each in counted), ZERO),
    )


def _bare_phases(quote: Quote, phases: list[Phase]) -> tuple[DeskPhase, ...]:
    """The lines without figures, so that what is amiss can be put right."""
    rows = list(quote.lines.select_related("phase"))
    return tuple(
        DeskPhase(
            phase,
            tuple(DeskLine(row, _unpriced(row)) for row in rows if row.phase_id == phase.pk),
            ZERO,
            ZERO,
            ZERO,
        )
        for phase in phases
    )


def _unpriced(row: QuoteLine) -> PricedLine:
    from quotes.pricing import Kind, Line, TaxCategory, TaxRate  # only when something is amiss

    line = Line(
        str(row.pk), str(row.phase_id), Kind(row.kind), row.quantity, row.unit_cost, TaxRate(TaxCategory.ZERO)
    )
    return PricedLine(line, ZERO, ZERO, ZERO, ZERO, ZERO)


def _drawn(steps: tuple[Step, ...]) -> tuple[DrawnStep, ...]:
    widest = max((max(step.running, step.running - step.amount) for step in steps), default=ZERO)
    if widest <= 0:
        return ()

    def at(amount: Decimal) -> int:
        return round(BAR_WIDTH * max(ZERO, amount) / widest)

    return tuple(
        DrawnStep(
            words=STEP_WORDS[step.name],
            amount=step.amount,
            running=step.running,
            x=min(at(step.running), at(step.running - step.amount)),
            width=max(1, abs(at(step.running) - at(step.running - step.amount))),
        )
        for step in steps
    )
