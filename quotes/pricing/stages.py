"""What is each payment stage in money, as its invoice will ask for it?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, split_money
from quotes.pricing.rules import HUNDRED, PricingError
from quotes.pricing.tax import TaxRate
from quotes.pricing.totals import Totals, add_up


@dataclass(frozen=True)
class Stage:
    """A share of the contract sum, and when it falls due in words."""

    title: str
    percent: Decimal


@dataclass(frozen=True)
class StageAmount:
    """A stage in money, just as its invoice will ask for it."""

    title: str
    percent: Decimal
    without_tax: Decimal
    tax: Decimal

    @property
    def with_tax(self) -> Decimal:
        """What falls due."""
        return self.without_tax + self.tax


def stage_nets(
    contract: Mapping[TaxRate, Decimal], stages: Sequence[Stage], at: int, currency: str
) -> dict[TaxRate, Decimal]:
    """One stage of a contract without tax, by rate; over all stages each rate adds up to the contract's.

    Shared by largest remainder, so that equal stages differ by a penny at most.
    """
    if not 0 <= at < len(stages):
        raise PricingError("There is no such payment stage.")
    weights = [stage.percent for stage in stages]
    return {rate: split_money(net, weights, currency)[at] for rate, net in contract.items()}


def stage_amounts(totals: Totals, stages: Sequence[Stage], currency: str) -> tuple[StageAmount, ...]:
    """What each of the stages, which make up 100 %, will be invoiced at.

    Without tax they add up to the totals to the penny. Tax is worked out on each invoice for itself (BR-CO-17
    of EN 16931), so that together it may differ from the totals' by the rounding.
    """
    if not stages:
        return ()
    if sum((stage.percent for stage in stages), ZERO) != HUNDRED:
        raise PricingError("The payment stages must add up to 100 %.")
    if min(stage.percent for stage in stages) <= 0:
        raise PricingError("A payment stage must be more than nothing.")
    contract = {subtotal.rate: subtotal.taxable for subtotal in totals.subtotals}
    return tuple(
        _amount(stage, stage_nets(contract, stages, at, currency), currency)
        for at, stage in enumerate(stages)
    )


def _amount(stage: Stage, nets: Mapping[TaxRate, Decimal], currency: str) -> StageAmount:
    invoice = add_up([(net, rate) for rate, net in nets.items()], currency=currency)
    return StageAmount(stage.title, stage.percent, invoice.without_tax, invoice.tax)
