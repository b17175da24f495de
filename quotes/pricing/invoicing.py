"""How much of a contract is an invoice for: the work done, or the rest? (For a stage, see stages.py.)

Amounts are without tax, by rate of tax. Tax is worked out on each invoice for itself (BR-CO-17), so the taxes
of all invoices may differ from the contract's by a penny a rate; the amounts without tax add up exactly.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from decimal import Decimal

from jobs.money import ZERO, round_money, split_money
from quotes.pricing.rules import HUNDRED, PricingError
from quotes.pricing.tax import TaxRate

Nets = Mapping[TaxRate, Decimal]


def sum_of(parts: Iterable[Nets]) -> dict[TaxRate, Decimal]:
    """Amounts by rate, added up; rates in their steady order."""
    total: dict[TaxRate, Decimal] = defaultdict(Decimal)
    for part in parts:
        for rate, net in part.items():
            total[rate] += net
    return {rate: total[rate] for rate in sorted(total, key=TaxRate.order)}


def done_nets(
    phases: Iterable[tuple[Nets, Decimal]], invoiced: Nets, *, currency: str
) -> dict[TaxRate, Decimal]:
    """The work done so far less what is invoiced already, by rate; below nothing if too much was invoiced.

    Each phase comes with what it puts into the contract by rate and with how many per cent of it are done: a
    phase that is finished is asked for at its own rate of tax, not at the contract's mixture.
    """
    done: dict[TaxRate, Decimal] = defaultdict(Decimal)
    for nets, percent in phases:
        if not 0 <= percent <= HUNDRED:
            raise PricingError("Percent done is between 0 and 100.")
        for rate, net in nets.items():
            done[rate] += net * percent / HUNDRED
    return balance({rate: round_money(net, currency) for rate, net in done.items()}, invoiced)


def balance(contract: Nets, invoiced: Nets) -> dict[TaxRate, Decimal]:
    """What is left to invoice, by rate."""
    return sum_of([contract, {rate: -net for rate, net in invoiced.items()}])


def credit_nets(left: Nets, asked: Decimal, currency: str) -> dict[TaxRate, Decimal]:
    """An amount to credit, by rate. All that is left of an invoice is mirrored, rates that stand below
    nothing among them; a part is spread over what is left above nothing.
    """
    if asked == sum(left.values(), ZERO):
        return {rate: net for rate, net in left.items() if net}
    shares = split_money(asked, [max(ZERO, net) for net in left.values()], currency)
    return {rate: share for rate, share in zip(left, shares, strict=True) if share}


def retention(nets: Nets, percent: Decimal, currency: str) -> dict[TaxRate, Decimal]:
    """What is held back of an amount, by rate, as amounts below nothing."""
    if not 0 <= percent < HUNDRED:
        raise PricingError("A retention is at least nothing and less than the whole.")
    return {rate: -round_money(net * percent / HUNDRED, currency) for rate, net in nets.items() if net > ZERO}
