"""Which sums can prices come to? A plan's cost is one of them, so a bound may be raised to the next."""

from __future__ import annotations

from collections.abc import Iterable
from math import gcd

MOST_SUMS = 4_000_000  # half a megabyte


class PriceSums:
    """The sums of any choice of priced things, each of which there are only so many."""

    def __init__(self, prices: Iterable[tuple[int, int]], most: int) -> None:
        """Each price with how many there are at it; sums above `most` are not asked for."""
        kinds = [(cost, quantity) for cost, quantity in prices if cost]
        self.most = most
        self.unit = gcd(*(cost for cost, _ in kinds)) or 1
        self.is_known = most // self.unit < MOST_SUMS
        self.reached = self._all_sums(kinds) if self.is_known else 0

    def at_least(self, amount: int) -> int:
        """The least sum that is no less than the amount; where it isn't known, the next multiple of the unit.

        >>> PriceSums([(72, 9), (46, 9)], 200).at_least(109)
        118
        """
        steps = max(0, -(-amount // self.unit))
        above = self.reached >> steps
        if self.is_known and above:
            steps += (above & -above).bit_length() - 1
        return steps * self.unit

    def _all_sums(self, kinds: list[tuple[int, int]]) -> int:
        """A whole number with a bit set for each sum, counted in units."""
        room = self.most // self.unit
        mask, reached = (1 << (room + 1)) - 1, 1
        for cost, quantity in kinds:
            step = cost // self.unit
            left = min(quantity, room // step)
            batch = 1
            while left:
                take = min(batch, left)
                reached |= (reached << (take * step)) & mask
                left -= take
                batch *= 2
        return reached
