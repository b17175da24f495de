"""The best ways to cut one sheet when every shape has a worth: what the linear program over sheets asks for.

Each shape may be taken more often than it is wanted, so that what is found is a ceiling for real sheets too.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from materials.cutting.recreate.cuttings import fill_table
from materials.cutting.widened import Blank, Widened

MOST_WORK = 3e7  # steps of the recursion that are still quick, some tens of milliseconds

Ints = NDArray[np.int64]


class SheetPricer:
    """Keeps the table of best worths over all sizes that rows of shapes add up to."""

    def __init__(self, widened: Widened) -> None:
        self.widened = widened
        width = max(blank.width for blank in widened.blanks)
        height = max(blank.height for blank in widened.blanks)
        lying = [way for way in _ways(widened) if way[1] <= width and way[2] <= height]
        self.shape_at = np.array([shape for shape, _, _ in lying], dtype=np.int64)
        self.sizes = np.array([(w, h) for _, w, h in lying], dtype=np.int64)
        quantity = [shape.quantity for shape in widened.shapes]
        self.xs = reachable([(w, quantity[shape]) for shape, w, _ in lying], width)
        self.ys = reachable([(h, quantity[shape]) for shape, _, h in lying], height)
        self.floor_x = np.searchsorted(self.xs, np.arange(width + 1), side="right") - 1
        self.floor_y = np.searchsorted(self.ys, np.arange(height + 1), side="right") - 1
        self.table: Ints = np.zeros((0, 0), dtype=np.int64)
        self.worth: Ints = np.zeros(0, dtype=np.int64)

    @property
    def work(self) -> float:
        """About how many steps one pricing takes."""
        across, up = len(self.xs), len(self.ys)
        return across * up * (across + up) / 4

    def price(self, worth: list[int]) -> list[int]:
        """Fill the table for these worths of the shapes; the most that each blank can be worth."""
        if not self.table.size:
            self.table = np.zeros((len(self.xs), len(self.ys)), dtype=np.int64)
        self.worth = np.array(worth, dtype=np.int64)[self.shape_at]
        fill_table(self.xs, self.ys, self.floor_x, self.floor_y, self.sizes, self.worth, self.table)
        return [int(self._most(blank)) for blank in self.widened.blanks]

    def best_cutting(self, blank: Blank) -> Counter[int]:
        """How often each shape stands in a best cutting of the blank, by the table as last filled."""
        counts: Counter[int] = Counter()
        waiting = [(int(self.floor_x[blank.width]), int(self.floor_y[blank.height]))]
        while waiting:
            i, j = waiting.pop()
            if self.table[i, j] == 0:
                continue
            shape = self._shape_filling(i, j)
            if shape is None:
                waiting.extend(self._parted(i, j))
            else:
                counts[shape] += 1
        return counts

    def _most(self, blank: Blank) -> int:
        return int(self.table[self.floor_x[blank.width], self.floor_y[blank.height]])

    def _shape_filling(self, i: int, j: int) -> int | None:
        fits = (self.sizes[:, 0] <= self.xs[i]) & (self.sizes[:, 1] <= self.ys[j])
        found = np.flatnonzero(fits & (self.worth == self.table[i, j]))
        return int(self.shape_at[found[0]]) if found.size else None

    def _parted(self, i: int, j: int) -> list[tuple[int, int]]:
        """The two rectangles that a best cut of this one leaves."""
        most = self.table[i, j]
        rests = self.floor_x[self.xs[i] - self.xs[1:i]]
        found = np.flatnonzero(self.table[1:i, j] + self.table[rests, j] == most)
        if found.size:
            return [(int(found[0]) + 1, j), (int(rests[found[0]]), j)]
        rests = self.floor_y[self.ys[j] - self.ys[1:j]]
        found = np.flatnonzero(self.table[i, 1:j] + self.table[i, rests] == most)
        if found.size:
            return [(i, int(found[0]) + 1), (i, int(rests[found[0]]))]
        return [(i - 1, j)] if self.table[i - 1, j] == most else [(i, j - 1)]


def _ways(widened: Widened) -> Iterable[tuple[int, int, int]]:
    """Each shape with width and height as it may lie."""
    for index, shape in enumerate(widened.shapes):
        yield index, shape.width, shape.height
        if shape.may_turn:
            yield index, shape.height, shape.width


def reachable(sizes: list[tuple[int, int]], most: int) -> Ints:
    """The sums up to `most` of sizes that may each be taken so many times.

    >>> reachable([(3, 2), (5, 1)], 10).tolist()
    [0, 3, 5, 6, 8]
    """
    sums, limit = 1, (1 << (most + 1)) - 1  # bit n is set when n can be reached
    for size, times in sizes:
        step, still = 1, times
        while still > 0:
            take = min(step, still)
            sums |= (sums << (size * take)) & limit
            still -= take
            step *= 2
    return np.array([n for n, bit in enumerate(reversed(f"{sums:b}")) if bit == "1"], dtype=np.int64)
