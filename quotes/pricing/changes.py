"""What does a change order take out of the contract, and what is the contract sum after it?"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from jobs.money import round_half_up, round_money
from quotes.pricing.lines import PricedLine
from quotes.pricing.rules import PricingError


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
            labour_cost=part(priced.line.labour_cost),
            optional=False,
        ),
        cost=cost,
        overhead=overhead,
        contingency=contingency,
        markup=part(priced.listed) - cost - overhead - contingency,
        discount=part(priced.discount),
    )


def days_of(hours: Decimal, hours_a_day: Decimal) -> Decimal:
    """Working days that hours come to, unrounded; below nothing when a change saves time."""
    if hours_a_day <= 0:
        raise PricingError("A working day must have hours in it.")
    return hours / hours_a_day


def whole_days(hours: Decimal, hours_a_day: Decimal) -> int:
    """Working days by which a phase is planned longer, halves away from nothing.

    >>> [whole_days(Decimal(hours), Decimal(8)) for hours in (12, 3, -4)]
    [2, 0, -1]
    """
    return int(round_half_up(days_of(hours, hours_a_day), 0))
