"""What changes when a prime cost or provisional sum turns into an actual cost?"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from quotes.pricing.lines import PricedLine, price_line
from quotes.pricing.rules import SUMS, PricingError, Rules


@dataclass(frozen=True)
class SumAdjustment:
    """The sum is omitted and the actual added, both at the price the client pays without tax."""

    omitted: PricedLine
    added: PricedLine

    @property
    def effect(self) -> Decimal:
        """What the contract sum changes by, without tax."""
        return self.added.price - self.omitted.price


def adjust_sum(priced: PricedLine, *, actual_cost: Decimal, rules: Rules) -> SumAdjustment:
    """Omit a prime cost or provisional sum and add what was really spent, with the same rule of profit."""
    if priced.line.kind not in SUMS:
        raise PricingError("Only a prime cost sum or a provisional sum is adjusted to the actual cost.")
    actual = replace(priced.line, quantity=Decimal(1), unit_cost=actual_cost, unit_price=None)
    return SumAdjustment(omitted=priced, added=price_line(actual, rules))
