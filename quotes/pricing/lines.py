"""What does one line cost, and what is its price?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, round_money
from quotes.pricing.rules import HUNDRED, NO_DISCOUNT, SUMS, Discount, Kind, PricingError, Rules
from quotes.pricing.tax import TaxRate

__all__ = ["SUMS", "Kind", "Line", "PricedLine", "price_line"]


@dataclass(frozen=True)
class Line:
    """One line of a quote before pricing.

    `quantity` × `unit_cost` is the direct cost; for labour that is hours × cost rate, with `hours` beside it.
    A given `unit_price` (a charge rate, a price agreed before) overrides overhead, contingency and markup.
    An optional line is priced but counts only once `chosen`; of a `group` of alternatives at most one is.
    `labour_cost` is the part of another line's cost that is labour: it bears labour's profit, and the hours'
    overhead. A `difference` says what one way costs over another and may be below nothing.
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
    labour_cost: Decimal = ZERO
    difference: bool = False

    @property
    def parts(self) -> tuple[tuple[Kind, Decimal, Decimal], ...]:
        """Kind, direct cost and hours of each part that bears a profit of its own."""
        cost = self.quantity * self.unit_cost
        if not self.labour_cost:
            return ((self.kind, cost, self.hours),)
        return (
            (self.kind, cost - self.labour_cost, ZERO),
            (Kind.LABOUR, self.labour_cost, self.hours),
        )


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
    if line.unit_cost < 0 and not line.difference:
        raise PricingError("A cost cannot be below nothing; to take something out, omit it.")
    money = rules.currency
    exact_cost = line.quantity * line.unit_cost
    exact_overhead = exact_contingency = ZERO
    if line.kind not in SUMS:
        exact_overhead = rules.overhead.on(exact_cost, line.hours)
        exact_contingency = (exact_cost + exact_overhead) * rules.contingency_percent / 100
    fixed = None if line.unit_price is None else line.quantity * line.unit_price
    listed = round_money(_price_of_parts(line, rules) if fixed is None else fixed, money)
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


def _price_of_parts(line: Line, rules: Rules) -> Decimal:
    """Each part at the profit of its own kind, unrounded."""
    if line.kind in SUMS:
        return rules.profit_on(line.kind).price_of(line.quantity * line.unit_cost)
    stretched = (HUNDRED + rules.contingency_percent) / HUNDRED
    return sum(
        (
            rules.profit_on(kind).price_of((cost + rules.overhead.on(cost, hours)) * stretched)
            for kind, cost, hours in line.parts
        ),
        ZERO,
    )
