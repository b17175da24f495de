"""One sheet that all the parts fill without a gap: blocks put together only where their sides are equal.

A search that puts parts into gaps seldom hits on a sheet without waste, for one part out of place spoils
it. The other way about it is quick: two blocks may be joined only along sides of one length, which few are.
Built up from the parts, the smallest blocks first, after P. Y. Wang, "Two algorithms for constrained
two-dimensional cutting stock problems", Operations Research 31 (1983), with no waste allowed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from heapq import heappop, heappush

from materials.cutting.blocks import ACROSS, UPWARD, Block, FilledBlank, Layout, Leaf, stack
from materials.cutting.lying import ways_to_lie
from materials.cutting.search import never_stop
from materials.cutting.widened import Blank, Widened

MOST_BLOCKS = 200_000  # about 100 MB

Key = tuple[int, int, int]  # width, height, and the packed counts of a block
Made = tuple[int, Key, Key]  # the axis along which two blocks are joined to make it


def gapless_layout(widened: Widened, is_over: Callable[[], bool] = never_stop) -> Layout | None:
    """The one sheet that all the parts fill, or None if there is none, or none was found in the time."""
    needed = sum(shape.area * shape.quantity for shape in widened.shapes)
    for index, blank in enumerate(widened.blanks):
        if blank.area == needed and blank.quantity:
            block = _Joining(widened, blank).block(is_over)
            if block is not None:
                return [FilledBlank(index, block)]
    return None


class _Joining:
    """All blocks without a gap that a sheet can be built up from, and how each was made."""

    def __init__(self, widened: Widened, blank: Blank) -> None:
        self.blank = blank
        self.counts = _PackedCounts([shape.quantity for shape in widened.shapes])
        self.leaf_of: dict[Key, Leaf] = {}
        self.made: dict[Key, Made] = {}
        self.heap: list[tuple[int, Key]] = []
        self.by_side: tuple[dict[int, list[Key]], ...] = (defaultdict(list), defaultdict(list))
        for number, shape in enumerate(widened.shapes):
            for leaf in ways_to_lie(number, shape, blank):
                key = (leaf.width, leaf.height, self.counts.one(number))
                self.leaf_of[key] = leaf
                heappush(self.heap, (shape.area, key))

    def block(self, is_over: Callable[[], bool]) -> Block | None:
        """The block that fills the sheet, or None."""
        whole = (self.blank.width, self.blank.height, self.counts.all)
        while self.heap and len(self.made) < MOST_BLOCKS and not is_over():
            _, key = heappop(self.heap)
            if key == whole:
                return self._build(key)
            self._join(key)
        return None

    def _join(self, key: Key) -> None:
        """The block with every smaller one that has a side of the same length and leaves parts enough."""
        width, height, counts = key
        self.by_side[ACROSS][height].append(key)
        self.by_side[UPWARD][width].append(key)
        room = self.counts.room(counts)
        for other in self.by_side[ACROSS][height]:
            if width + other[0] <= self.blank.width and self.counts.fits(other[2], room):
                self._keep((width + other[0], height, counts + other[2]), (ACROSS, key, other))
        for other in self.by_side[UPWARD][width]:
            if height + other[1] <= self.blank.height and self.counts.fits(other[2], room):
                self._keep((width, height + other[1], counts + other[2]), (UPWARD, key, other))

    def _keep(self, key: Key, made: Made) -> None:
        if key not in self.made and key not in self.leaf_of:
            self.made[key] = made
            heappush(self.heap, (key[0] * key[1], key))

    def _build(self, key: Key) -> Block:
        if key in self.leaf_of:
            return self.leaf_of[key]
        axis, first, second = self.made[key]
        return stack(axis, [self._build(first), self._build(second)])


class _PackedCounts:
    """How many of each shape, in one whole number: a field for each, with a bit above it that is always free.

    Taken from one with all those bits set, counts that are too large anywhere clear that field's bit.
    """

    def __init__(self, quantities: list[int]) -> None:
        self.shifts: list[int] = []
        self.all = self.guard = at = 0
        for quantity in quantities:
            self.shifts.append(at)
            self.all += quantity << at
            at += quantity.bit_length()
            self.guard += 1 << at
            at += 1

    def one(self, shape: int) -> int:
        """One piece of the shape."""
        return 1 << self.shifts[shape]

    def room(self, counts: int) -> int:
        """What is left beside these counts, to be given to `fits`."""
        return self.all - counts + self.guard

    def fits(self, counts: int, room: int) -> bool:
        """Is there enough left of every shape?"""
        return (room - counts) & self.guard == self.guard
