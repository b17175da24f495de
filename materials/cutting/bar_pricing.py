"""Which bar is worth most when each length has a price? A knapsack with so many pieces of each length.

Values are whole numbers, so what is found to be the most is the most: a bound built on it is safe.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .bar_reach import batches
from .cut_model import CutModel

# The dearest bar is worth one unit, and no piece more.
FEW_PIECES = 64
LIKE_PRICES = 16
UNIT_32 = 1 << 25
UNIT_64 = 1 << 38


@dataclass(frozen=True)
class Pattern:
    """Lengths cut from one bar of a stock: (length index, count) pairs, longest first."""

    stock: int
    counts: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Priced:
    """The most that a bar of each stock is worth, and patterns worth more than asked, best first."""

    most: dict[int, int]
    patterns: list[Pattern]


class Pricer:
    """Prices patterns for one model; room for its tables is taken once."""

    def __init__(self, model: CutModel) -> None:
        self.model = model
        self.room = model.largest_room
        self.stages = [
            (i, batch)
            for i, (length, count) in enumerate(zip(model.lengths, model.demand, strict=True))
            for batch in batches(min(count, self.room // length))
        ]
        few_digits = _few_digits_do(model)
        self.unit = UNIT_32 if few_digits else UNIT_64
        self.kind = np.dtype(np.int32 if few_digits else np.int64)
        self.taken = np.zeros((len(self.stages), self.room + 1), dtype=np.bool_)

    def price(
        self, values: Sequence[int], demand: Sequence[int], over: Sequence[int], most_patterns: int
    ) -> Priced:
        """Fill the best bar of each stock; patterns worth more than `over[stock]` come back, best first."""
        model = self.model
        worth = np.zeros(self.room + 1, dtype=self.kind)
        stages: list[tuple[int, int, int]] = []
        ends: list[
            tuple[int, int, int]
        ] = []  # value, stage, stock of a bar whose last piece is of that stage
        rooms = [(s, model.rooms[s], over[s]) for s in model.stock_order]
        for i, batch, size in self._stages_for(values, demand):
            value = values[i] * batch
            row = len(stages)
            stages.append((i, batch, size))
            with_it = worth[: self.room + 1 - size] + value
            for s, room, least in rooms:
                if size <= room and with_it[room - size] > least:
                    ends.append((int(with_it[room - size]) - least, row, s))
            np.greater(with_it, worth[size:], out=self.taken[row, size:])
            self.taken[row, :size] = False
            np.maximum(with_it, worth[size:], out=worth[size:])
        most = {s: int(worth[room]) for s, room, _ in rooms}
        ends.sort(reverse=True)
        patterns = dict.fromkeys(self._trace(stages, row, s) for _, row, s in ends[:most_patterns])
        return Priced(most, list(patterns))

    def _stages_for(self, values: Sequence[int], demand: Sequence[int]) -> list[tuple[int, int, int]]:
        lengths, room = self.model.lengths, self.room
        return [
            (i, batch, batch * lengths[i])
            for i, count in enumerate(demand)
            if count and values[i] > 0 and lengths[i] <= room
            for batch in batches(min(count, room // lengths[i]))
        ]

    def _trace(self, stages: list[tuple[int, int, int]], row: int, stock: int) -> Pattern:
        """The pieces of the best bar that ends with the piece of stage `row`."""
        left = self.model.rooms[stock]
        counts: dict[int, int] = {}
        while True:
            i, batch, size = stages[row]
            counts[i] = counts.get(i, 0) + batch
            left -= size
            earlier = self.taken[:row, left].nonzero()[0]
            if not earlier.size:
                return Pattern(stock, tuple(sorted(counts.items())))
            row = int(earlier[-1])


def _few_digits_do(model: CutModel) -> bool:
    """Few pieces a bar and prices of one order leave room for half the digits.

    That is twice as quick where the table outgrows the processor's cache.
    """
    prices = [model.charges[s] for s in model.stock_order if model.charges[s]]
    pieces = model.largest_room // min(model.lengths)
    return pieces < FEW_PIECES and max(prices, default=1) <= LIKE_PRICES * min(prices, default=1)
