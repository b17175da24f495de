"""Which tax falls on a line, on which day, and why if none?

Categories are the codes of UNTDID 5305 that EN 16931 takes over.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from jobs.money import ZERO, round_money
from quotes.pricing.rules import HUNDRED, PricingError


class TaxCategory(StrEnum):
    """EN 16931's categories of tax."""

    STANDARD = "S"
    ZERO = "Z"
    EXEMPT = "E"
    REVERSE_CHARGE = "AE"
    INTRA_COMMUNITY = "K"
    EXPORT = "G"
    OUTSIDE_SCOPE = "O"


NO_REASON = frozenset({TaxCategory.STANDARD, TaxCategory.ZERO})
_ORDER = {category: at for at, category in enumerate(TaxCategory)}


@dataclass(frozen=True)
class TaxRate:
    """A rate of tax as a line carries it.

    Only the standard category has a per cent above nothing (BR-S-5, BR-Z-5, BR-E-5, BR-AE-5). Exempt, reverse
    charge and the like say why, by code or in words (BR-E-10, BR-AE-10, BR-O-10); standard and zero don't
    (BR-S-10, BR-Z-10). A standard rate of nothing is category Z.
    """

    category: TaxCategory
    percent: Decimal = ZERO
    reason_code: str = ""
    reason: str = ""

    def __post_init__(self) -> None:
        if (self.category is TaxCategory.STANDARD) != (self.percent > 0) or self.percent < 0:
            raise PricingError("Only the standard category has a rate, and it must be above nothing.")
        if (self.category in NO_REASON) == bool(self.reason_code or self.reason):
            raise PricingError("Exempt and reverse charge need a reason; standard and zero rates take none.")

    def order(self) -> tuple[int, Decimal, str, str]:
        """Where the rate stands in a list: by category, the highest per cent first."""
        return (_ORDER[self.category], -self.percent, self.reason_code, self.reason)


@dataclass(frozen=True)
class DatedRate:
    """What a named rate is from a day on."""

    name: str
    valid_from: date
    rate: TaxRate


def rate_on(rates: Iterable[DatedRate], *, name: str, day: date) -> TaxRate:
    """The rate of that name in force on a day: the latest that has begun."""
    begun = [dated for dated in rates if dated.name == name and dated.valid_from <= day]
    if not begun:
        raise PricingError(f"There is no tax rate “{name}” on {day.isoformat()}.")
    return max(begun, key=lambda dated: dated.valid_from).rate


def tax_inside(gross: Decimal, percent: Decimal, currency: str) -> Decimal:
    """The tax inside a price that includes it: gross × r / (100 + r), rounded half up."""
    return round_money(gross * percent / (HUNDRED + percent), currency)
