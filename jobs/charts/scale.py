"""Which round figure ends an axis, and where on it does a value stand?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import ceil

ROUND_STEPS = (Decimal(1), Decimal(2), Decimal("2.5"), Decimal(5), Decimal(10))
FEWEST_STEPS = 4


@dataclass(frozen=True)
class Axis:
    """From nought to `top` over `length` units of the drawing."""

    top: Decimal
    step: Decimal
    length: int

    def at(self, value: Decimal) -> float:
        """Where a value stands, kept within the axis; to a tenth of a unit, which no eye can part."""
        share = min(max(value, Decimal(0)), self.top) / self.top
        return round(float(share) * self.length, 1)

    @property
    def ticks(self) -> list[Decimal]:
        """Nought and every step up to the top."""
        return [self.step * count for count in range(int(self.top / self.step) + 1)]


def axis_for(largest: Decimal, length: int) -> Axis:
    """An axis that holds the largest value and ends on a round figure.

    >>> axis_for(Decimal("41.5"), 240).top, axis_for(Decimal("41.5"), 240).step
    (Decimal('50'), Decimal('10'))
    """
    if largest <= 0:
        return Axis(Decimal(1), Decimal(1), length)
    size = Decimal(1).scaleb((largest / FEWEST_STEPS).adjusted())
    step = next(
        size * factor for factor in ROUND_STEPS if size * factor * FEWEST_STEPS >= largest * Decimal("0.8")
    )
    return Axis(step * ceil(largest / step), step, length)
