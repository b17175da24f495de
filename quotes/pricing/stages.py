"""What is each payment stage, so that the stages add up to the contract sum?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, split_money
from quotes.pricing.rules import HUNDRED, PricingError
from quotes.pricing.totals import Totals


@dataclass(frozen=True)
class Stage:
    """A share of the contract sum, and when it falls due in words."""

    title: str
    percent: Decimal


@dataclass(frozen=True)
class StageAmount:
    """A stage in money; the columns of all stages add up to the totals to the penny."""

    title: str
    percent: Decimal
    without_tax: Decimal
    tax: Decimal

    @property
    def with_tax(self) -> Decimal:
        """What falls due."""
        return self.without_tax + self.tax


def stage_amounts(totals: Totals, stages: Sequence[Stage], currency: str) -> tuple[StageAmount, ...]:
    """Share the totals over stages that make up 100 %, by largest remainder.

    What falls due is shared first, then the tax in it, so that equal stages differ by a penny at most.
    """
    if not stages:
        return ()
    if sum((stage.percent for stage in stages), ZERO) != HUNDRED:
        raise PricingError("The payment stages must add up to 100 %.")
    if min(stage.percent for stage in stages) <= 0:
        raise PricingError("A payment stage must be more than nothing.")
    weights = [stage.percent for stage in stages]
    due = split_money(totals.with_tax, weights, currency)
    taxes = split_money(totals.tax, weights, currency)
    return tuple(
        StageAmount(stage.title, stage.percent, gross - tax, tax)
        for stage, gross, tax in zip(stages, due, taxes, strict=True)
    )
