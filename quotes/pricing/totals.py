"""What do lines, allowances and tax add up to? The totals of EN 16931, rules BR-CO-10 to BR-CO-17."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, round_money
from quotes.pricing.rules import HUNDRED
from quotes.pricing.tax import TaxRate


@dataclass(frozen=True)
class Allowance:
    """An amount off the whole document (or, as a charge, on top of it) under one rate of tax."""

    amount: Decimal
    tax: TaxRate


@dataclass(frozen=True)
class TaxSubtotal:
    """The tax of one rate: on what, and how much."""

    rate: TaxRate
    taxable: Decimal
    tax: Decimal


@dataclass(frozen=True)
class Totals:
    """A document's totals; each is a sum of rounded figures, so that what is printed adds up."""

    lines: Decimal
    allowances: Decimal
    charges: Decimal
    subtotals: tuple[TaxSubtotal, ...]
    paid: Decimal = ZERO
    rounding: Decimal = ZERO

    @property
    def without_tax(self) -> Decimal:
        """BR-CO-13: lines less allowances plus charges."""
        return self.lines - self.allowances + self.charges

    @property
    def tax(self) -> Decimal:
        """BR-CO-14: the tax of all rates."""
        return sum((subtotal.tax for subtotal in self.subtotals), ZERO)

    @property
    def with_tax(self) -> Decimal:
        """BR-CO-15."""
        return self.without_tax + self.tax

    @property
    def due(self) -> Decimal:
        """BR-CO-16: with tax, less what is paid, plus the rounding amount."""
        return self.with_tax - self.paid + self.rounding


def add_up(
    lines: Sequence[tuple[Decimal, TaxRate]],
    *,
    currency: str,
    allowances: Sequence[Allowance] = (),
    charges: Sequence[Allowance] = (),
    paid: Decimal = ZERO,
    rounding: Decimal = ZERO,
) -> Totals:
    """Add up net line amounts (each already rounded) and work the tax out once a rate (BR-CO-17)."""
    taxable: dict[TaxRate, Decimal] = defaultdict(Decimal)
    for net, rate in lines:
        taxable[rate] += net
    for allowance in allowances:
        taxable[allowance.tax] -= allowance.amount
    for charge in charges:
        taxable[charge.tax] += charge.amount
    return Totals(
        lines=sum((net for net, _ in lines), ZERO),
        allowances=sum((allowance.amount for allowance in allowances), ZERO),
        charges=sum((charge.amount for charge in charges), ZERO),
        subtotals=tuple(
            TaxSubtotal(rate, taxable[rate], round_money(taxable[rate] * rate.percent / HUNDRED, currency))
            for rate in sorted(taxable, key=TaxRate.order)
        ),
        paid=paid,
        rounding=rounding,
    )
