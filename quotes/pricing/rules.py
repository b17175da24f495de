"""How is a cost turned into a price: overhead, contingency, markup or margin, discount."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from jobs.money import ZERO, round_money

HUNDRED = Decimal(100)


class PricingError(ValueError):
    """The figures cannot be priced; the message says why in words for the maker."""


class Kind(StrEnum):
    """What a line pays for; markup or margin is set by kind."""

    LABOUR = "labour"
    MATERIAL = "material"
    SUBCONTRACT = "subcontract"
    HIRE = "hire"
    TRAVEL = "travel"
    OTHER = "other"
    PRIME_COST_SUM = "prime_cost_sum"
    PROVISIONAL_SUM = "provisional_sum"


SUMS = frozenset({Kind.PRIME_COST_SUM, Kind.PROVISIONAL_SUM})


def margin_from_markup(markup_percent: Decimal) -> Decimal:
    """The share of the price that a markup makes, in per cent, unrounded: 25 on cost is 20 of price."""
    if markup_percent <= -HUNDRED:
        raise PricingError("A markup must be more than -100 %.")
    return HUNDRED * markup_percent / (HUNDRED + markup_percent)


def markup_from_margin(margin_percent: Decimal) -> Decimal:
    """The share of the cost that makes a margin, in per cent, unrounded: 20 of price is 25 on cost."""
    if margin_percent >= HUNDRED:
        raise PricingError("A margin must be less than 100 % of the price.")
    return HUNDRED * margin_percent / (HUNDRED - margin_percent)


class ProfitBasis(StrEnum):
    """Markup is a share of the cost, margin a share of the price."""

    MARKUP = "markup"
    MARGIN = "margin"


@dataclass(frozen=True)
class Profit:
    """What one kind of cost has to earn, in per cent of its cost (markup) or of its price (margin)."""

    basis: ProfitBasis = ProfitBasis.MARKUP
    percent: Decimal = ZERO

    def __post_init__(self) -> None:
        if self.basis is ProfitBasis.MARGIN:
            markup_from_margin(self.percent)
        else:
            margin_from_markup(self.percent)

    def price_of(self, cost: Decimal) -> Decimal:
        """The price of a cost, unrounded."""
        if self.basis is ProfitBasis.MARGIN:
            return cost * HUNDRED / (HUNDRED - self.percent)
        return cost * (HUNDRED + self.percent) / HUNDRED


class OverheadBasis(StrEnum):
    """What the workshop's running costs are recovered on."""

    NONE = "none"
    LABOUR_HOURS = "labour_hours"
    PRIME_COST = "prime_cost"


@dataclass(frozen=True)
class Overhead:
    """Running costs recovered: money an hour of labour, or per cent of the direct (prime) cost."""

    basis: OverheadBasis = OverheadBasis.NONE
    rate: Decimal = ZERO

    def on(self, cost: Decimal, hours: Decimal) -> Decimal:
        """The overhead that a cost and its hours carry, unrounded."""
        if self.basis is OverheadBasis.LABOUR_HOURS:
            return hours * self.rate
        if self.basis is OverheadBasis.PRIME_COST:
            return cost * self.rate / HUNDRED
        return ZERO


@dataclass(frozen=True)
class Discount:
    """Off a line or off the whole: per cent, or an amount; not both."""

    percent: Decimal = ZERO
    amount: Decimal = ZERO

    def __post_init__(self) -> None:
        if self.percent and self.amount:
            raise PricingError("Give the discount in per cent or as an amount, not both.")
        if not 0 <= self.percent <= HUNDRED or self.amount < 0:
            raise PricingError("A discount is between nothing and the whole price.")

    def off(self, price: Decimal, currency: str) -> Decimal:
        """What comes off a price, rounded; off an omission (below nothing) it is below nothing."""
        if self.percent:
            return round_money(price * self.percent / HUNDRED, currency)
        amount = round_money(self.amount, currency)
        if amount > abs(price):
            raise PricingError("The discount is more than the price it comes off.")
        return -amount if price < 0 else amount


NO_DISCOUNT = Discount()
NO_OVERHEAD = Overhead()


@dataclass(frozen=True)
class Rules:
    """The price rules of one quote, as the desk set them and as the issued quote keeps them."""

    currency: str
    profit: Mapping[Kind, Profit] = field(default_factory=dict)
    overhead: Overhead = NO_OVERHEAD
    contingency_percent: Decimal = ZERO
    discount: Discount = NO_DISCOUNT

    def profit_on(self, kind: Kind) -> Profit:
        """The markup or margin of a kind of cost; none set means none taken."""
        return self.profit.get(kind, Profit())
