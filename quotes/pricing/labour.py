"""How many hours does a piece of work take?"""

from __future__ import annotations

from decimal import Decimal

from jobs.money import round_half_up
from quotes.pricing.rules import PricingError

HOUR_PLACES = 2
# Common practice, for the maker to change: what stays behind a cabinet isn't worth an hour of fairing.
FINISH_FACTORS = {"seen": Decimal(1), "painted": Decimal("0.85"), "concealed": Decimal("0.7")}


def labour_hours(
    *, quantity: Decimal, hours_per_unit: Decimal, finish_factor: Decimal = Decimal(1)
) -> Decimal:
    """Hours of a line, to a hundredth of an hour, half up.

    The finish factor says what a surface is worth: work that stays behind a cabinet takes fewer hours
    than work that is seen. Plain hours are `quantity` at one hour each.

    >>> labour_hours(quantity=Decimal(12), hours_per_unit=Decimal("0.55"), finish_factor=Decimal("0.8"))
    Decimal('5.28')
    """
    if hours_per_unit < 0 or finish_factor <= 0:
        raise PricingError("Hours for each unit cannot be below nothing.")
    return round_half_up(quantity * hours_per_unit * finish_factor, HOUR_PLACES)
