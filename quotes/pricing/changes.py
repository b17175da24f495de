"""What does a change order do to the price, the hours, the days and the mass?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import accumulate

from jobs.money import ZERO, round_money
from quotes.pricing.lines import PricedLine
from quotes.pricing.rules import PricingError
from quotes.pricing.totals import Totals, add_up


@dataclass(frozen=True)
class ChangeEffect:
    """What a change order adds and takes out; a figure below nothing means less than before."""

    lines: tuple[PricedLine, ...]
    totals: Totals
    hours: Decimal
    mass_kg: Decimal

    @property
    def additions(self) -> Decimal:
        """Price of what is added, without tax."""
        return sum((each.price for each in self.lines if each.price > 0), ZERO)

    @property
    def omissions(self) -> Decimal:
        """Price of what is left out, without tax, as an amount below nothing."""
        return sum((each.price for each in self.lines if each.price < 0), ZERO)

    def days(self, hours_a_day: Decimal) -> Decimal:
        """Working days the hours come to, unrounded; below nothing when the change saves time."""
        if hours_a_day <= 0:
            raise PricingError("A working day must have hours in it.")
        return self.hours / hours_a_day


def omit(priced: PricedLine, *, share: Decimal = Decimal(1), currency: str) -> PricedLine:
    """Take a line, or a share of it, out of the contract at the price it was quoted for.

    The whole line omitted is the exact mirror of the line quoted.
    """
    if not 0 < share <= 1:
        raise PricingError("More cannot be left out than was quoted.")

    def part(amount: Decimal) -> Decimal:
        return -round_money(amount * share, currency)

    cost, overhead, contingency = part(priced.cost), part(priced.overhead), part(priced.contingency)
    return PricedLine(
        line=replace(
            priced.line,
            quantity=-priced.line.quantity * share,
            hours=-priced.line.hours * share,
            mass_kg=-priced.line.mass_kg * share,
            optional=False,
        ),
        cost=cost,
        overhead=overhead,
        contingency=contingency,
        markup=part(priced.listed) - cost - overhead - contingency,
        discount=part(priced.discount),
    )


def change_effect(
    *, additions: Sequence[PricedLine], omissions: Sequence[PricedLine], currency: str
) -> ChangeEffect:
    """Add up what is added and what is omitted (lines from `omit`), tax once a rate on the difference."""
    lines = (*additions, *omissions)
    return ChangeEffect(
        lines=lines,
        totals=add_up([(each.price, each.line.tax) for each in lines], currency=currency),
        hours=sum((each.line.hours for each in lines), ZERO),
        mass_kg=sum((each.line.mass_kg for each in lines), ZERO),
    )


def running_contract_sum(contract_sum: Decimal, effects: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """The contract sum after each agreed change, in their order."""
    return tuple(accumulate(effects, initial=contract_sum))[1:]
