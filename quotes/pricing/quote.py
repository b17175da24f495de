"""What does the whole quote come to?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from jobs.money import ZERO, split_money
from quotes.pricing.lines import Line, PricedLine, price_line
from quotes.pricing.options import check_groups
from quotes.pricing.rules import HUNDRED, SUMS, Kind, Profit, ProfitBasis, Rules
from quotes.pricing.tax import TaxRate
from quotes.pricing.totals import Allowance, Totals, add_up


@dataclass(frozen=True)
class PricedQuote:
    """All lines priced, and the totals of those that count. Options not chosen are priced and left out."""

    lines: tuple[PricedLine, ...]
    totals: Totals
    rules: Rules
    allowances: tuple[Allowance, ...] = ()

    @property
    def counted(self) -> tuple[PricedLine, ...]:
        """The lines that are in the totals."""
        return tuple(priced for priced in self.lines if priced.counts)

    @property
    def options(self) -> tuple[PricedLine, ...]:
        """The optional lines, chosen or not."""
        return tuple(priced for priced in self.lines if priced.line.optional)

    @property
    def in_contract(self) -> tuple[PricedLine, ...]:
        """The lines that count, each less its share of the discount on the whole: what it puts into the
        contract. Shared by largest remainder within each rate of tax, so that they add up to the totals by
        rate to the penny.
        """
        counted = self.counted
        shares = [ZERO] * len(counted)
        for allowance in self.allowances:
            places = [at for at, each in enumerate(counted) if each.line.tax == allowance.tax]
            sign = 1 if allowance.amount > 0 else -1
            weights = [max(ZERO, sign * counted[at].price) for at in places]
            parts = split_money(allowance.amount, weights, self.rules.currency)
            for at, part in zip(places, parts, strict=True):
                shares[at] = part
        return tuple(
            replace(each, discount=each.discount + share) for each, share in zip(counted, shares, strict=True)
        )

    @property
    def omissions(self) -> Decimal:
        """Price of the counted lines that leave something out: an amount below nothing."""
        return sum((priced.price for priced in self.counted if priced.price < 0), ZERO)

    @property
    def cost(self) -> Decimal:
        """Direct cost of the lines that count."""
        return sum((priced.cost for priced in self.counted), ZERO)

    @property
    def full_cost(self) -> Decimal:
        """Cost with overhead and contingency: what margin and markup are measured against."""
        return sum((priced.full_cost for priced in self.counted), ZERO)

    @property
    def hours(self) -> Decimal:
        """Hours of labour in the lines that count."""
        return sum((priced.line.hours for priced in self.counted), ZERO)

    @property
    def mass_kg(self) -> Decimal:
        """Mass of what the counted lines put in."""
        return sum((priced.line.mass_kg for priced in self.counted), ZERO)

    @property
    def profit(self) -> Decimal:
        """Price without tax less full cost."""
        return self.totals.without_tax - self.full_cost

    @property
    def margin_percent(self) -> Decimal | None:
        """Profit as a share of the price, unrounded; None where there is no price."""
        price = self.totals.without_tax
        return HUNDRED * self.profit / price if price > 0 else None

    @property
    def markup_percent(self) -> Decimal | None:
        """Profit as a share of the full cost, unrounded; None where there is no cost."""
        return HUNDRED * self.profit / self.full_cost if self.full_cost > 0 else None


def price_quote(lines: Sequence[Line], rules: Rules, omissions: Sequence[PricedLine] = ()) -> PricedQuote:
    """Price every line and add up those that count; a change order's omissions (see `omit`) come priced.

    Refuses two chosen alternatives of one group.
    """
    check_groups(lines)
    priced = (*(price_line(line, rules) for line in lines), *omissions)
    nets = [(each.price, each.line.tax) for each in priced if each.counts]
    allowances = _whole_discount(nets, rules)
    return PricedQuote(
        lines=priced,
        totals=add_up(nets, currency=rules.currency, allowances=allowances),
        rules=rules,
        allowances=allowances,
    )


def _whole_discount(nets: Sequence[tuple[Decimal, TaxRate]], rules: Rules) -> tuple[Allowance, ...]:
    """The discount on the whole, shared over the rates of tax by their net amounts."""
    off = rules.discount.off(sum((net for net, _ in nets), ZERO), rules.currency)
    if not off:
        return ()
    by_rate: dict[TaxRate, Decimal] = defaultdict(Decimal)
    for net, rate in nets:
        by_rate[rate] += net
    rates = sorted(by_rate, key=TaxRate.order)
    sign = 1 if off > 0 else -1
    shares = split_money(off, [max(ZERO, sign * by_rate[rate]) for rate in rates], rules.currency)
    return tuple(Allowance(share, rate) for share, rate in zip(shares, rates, strict=True) if share)


def at_margin(lines: Sequence[Line], rules: Rules, percent: Decimal) -> PricedQuote:
    """What the quote would come to with one margin on everything but the sums; discounts stay as they are."""
    margin = Profit(ProfitBasis.MARGIN, percent)
    profit = {kind: rules.profit_on(kind) if kind in SUMS else margin for kind in Kind}
    free = [line if line.kind in SUMS else replace(line, unit_price=None) for line in lines]
    return price_quote(free, replace(rules, profit=profit))
