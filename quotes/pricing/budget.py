"""What does an agreed price put into each phase's budget?"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO
from quotes.pricing.lines import PricedLine
from quotes.pricing.quote import PricedQuote
from quotes.pricing.rules import Kind


@dataclass(frozen=True)
class PhaseBudget:
    """What a phase may take and what it brings in. Its cost is direct cost, as hours and receipts are."""

    phase: str
    hours: Decimal
    labour_cost: Decimal
    material_cost: Decimal
    other_cost: Decimal
    price: Decimal
    mass_kg: Decimal


def phase_budgets(quote: PricedQuote) -> tuple[PhaseBudget, ...]:
    """The budget of each phase. Each line bears its share of a discount on the whole, so that the prices of
    the phases add up to the quote's price without tax to the penny.
    """
    phases: dict[str, list[PricedLine]] = defaultdict(list)
    for priced in quote.in_contract:
        phases[priced.line.phase].append(priced)
    return tuple(_budget(phase, lines) for phase, lines in phases.items())


def _budget(phase: str, lines: list[PricedLine]) -> PhaseBudget:
    def cost(*kinds: Kind) -> Decimal:
        return sum((each.cost - each.line.labour_cost for each in lines if each.line.kind in kinds), ZERO)

    other = [kind for kind in Kind if kind not in (Kind.LABOUR, Kind.MATERIAL)]
    labour_within = sum((each.line.labour_cost for each in lines), ZERO)
    return PhaseBudget(
        phase=phase,
        hours=sum((each.line.hours for each in lines), ZERO),
        labour_cost=cost(Kind.LABOUR) + labour_within,
        material_cost=cost(Kind.MATERIAL),
        other_cost=cost(*other),
        price=sum((each.price for each in lines), ZERO),
        mass_kg=sum((each.line.mass_kg for each in lines), ZERO),
    )
