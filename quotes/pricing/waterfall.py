"""How does the price build up from the cost, step by step?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO
from quotes.pricing.quote import PricedQuote
from quotes.pricing.rules import Kind


@dataclass(frozen=True)
class Step:
    """One step of the waterfall: what it adds, and how far the sum has come with it."""

    name: str
    amount: Decimal
    running: Decimal


def waterfall(quote: PricedQuote) -> tuple[Step, ...]:
    """Cost by kind, overhead, contingency, markup, discounts and tax, with the running sum after each.

    The last running sum is the total with tax. Steps of nothing are left out.
    """
    counted = quote.counted
    amounts = [
        (kind.value, sum((each.cost for each in counted if each.line.kind is kind), ZERO)) for kind in Kind
    ]
    amounts += [
        ("overhead", sum((each.overhead for each in counted), ZERO)),
        ("contingency", sum((each.contingency for each in counted), ZERO)),
        ("markup", sum((each.markup for each in counted), ZERO)),
        ("discount", -sum((each.discount for each in counted), ZERO) - quote.totals.allowances),
        ("tax", quote.totals.tax),
    ]
    steps: list[Step] = []
    running = ZERO
    for name, amount in amounts:
        running += amount
        if amount:
            steps.append(Step(name, amount, running))
    return tuple(steps)
