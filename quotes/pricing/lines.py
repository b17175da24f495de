"""What does one line cost, and what is its price?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, round_money
from quotes.pricing.rules import NO_DISCOUNT, SUMS, Discount, Kind, PricingError, Rules
from quotes.pricing.tax import TaxRate

__all__ = ["SUMS", "Kind", "Line", "PricedLine", "price_line"]


@dataclass(frozen=True)
class Line:
    """One line of a quote before pricing.

    `quantity` × `unit_cost` is the direct cost; for labour that is hours × cost rate, with `hours` beside it.
    A given `unit_price` (a charge rate, a price agreed before) overrides overhead, contingency and markup.
    An optional line is priced but counts only once `chosen`; of a `group` of alternatives at most one is.
    """

    key: str
    phase: str
    kind: Kind
    quantity: Decimal
    unit_cost: Decimal
    tax: TaxRate
    hours: Decimal = ZERO
    unit_price: Decimal | None = None
    discount: Discount = NO_DISCOUNT
    optional: bool = False
    chosen: bool = False
    group: str = ""
    mass_kg: Decimal = ZERO


@dataclass(frozen=True)
class PricedLine:
    """A line with every link of its chain: cost + overhead + contingency + markup - discount = price."""

    line: Line
    cost: Decimal
    overhead: Decimal
    contingency: Decimal
    markup: Decimal
    discount: Decimal

    @property
    def full_cost(self) -> Decimal:
        """What the line has to bring in before it earns anything."""
        return self.cost + self.overhead + self.contingency

    @property
    def listed(self) -> Decimal:
        """The price before the line's discount."""
        return self.full_cost + self.markup

    @property
    def price(self) -> Decimal:
        """The price the client sees, without tax."""
        return self.listed - self.discount

    @property
    def counts(self) -> bool:
        """Whether the line is in the total: it isn't an option, or the client chose it."""
        return self.line.chosen or not self.line.optional


def price_line(line: Line, rules: Rules) -> PricedLine:
    """Price one line. Each link is rounded half up at the line; the markup takes up the odd penny.

    Overhead and contingency stay off prime cost and provisional sums: they are the client's money, adjusted
    to what was spent, and carry only the profit set for their kind.
    """
    if line.unit_cost < 0:
        raise PricingError("A cost cannot be below nothing; to take something out, omit it.")
    money = rules.currency
    exact_cost = line.quantity * line.unit_cost
    exact_overhead = exact_contingency = ZERO
    if line.kind not in SUMS:
        exact_overhead = rules.overhead.on(exact_cost, line.hours)
        exact_contingency = (exact_cost + exact_overhead) * rules.contingency_percent / 100
    if line.unit_price is None:
        exact_price = rules.profit_on(line.kind).price_of(exact_cost + exact_overhead + exact_contingency)
    else:
        exact_price = line.quantity * line.unit_price
    listed = round_money(exact_price, money)
    cost, overhead, contingency = (
        round_money(part, money) for part in (exact_cost, exact_overhead, exact_contingency)
    )
    return PricedLine(
        line=line,
        cost=cost,
        overhead=overhead,
        contingency=contingency,
        markup=listed - cost - overhead - contingency,
        discount=line.discount.off(listed, money),
    )
