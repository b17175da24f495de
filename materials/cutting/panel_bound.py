"""How little can the sheets cost at best? Bounds that hold for every plan, guillotine or not."""

from __future__ import annotations

from dataclasses import dataclass

from materials.cutting.widened import Widened

MOST_NODES = 20_000


@dataclass(frozen=True)
class Cover:
    """A kind of sheet as far as covering an amount goes."""

    amount: int
    cost: int
    quantity: int


def area_bound(widened: Widened) -> int:
    """The least cost of sheets whose widened area covers that of the pieces.

    A cut leaves the sum of the widened areas as it was (see widened.py), so the pieces' can't exceed
    the sheets'.
    """
    pieces = sum(shape.area * shape.quantity for shape in widened.shapes)
    return least_cover([Cover(blank.area, blank.cost, blank.quantity) for blank in widened.blanks], pieces)


def fewest_sheets(widened: Widened) -> int:
    """The least number of sheets whose widened area covers that of the pieces, whatever they cost."""
    pieces = sum(shape.area * shape.quantity for shape in widened.shapes)
    return least_cover([Cover(blank.area, 1, blank.quantity) for blank in widened.blanks], pieces)


def least_cover(kinds: list[Cover], need: int) -> int:
    """The least cost of a choice of kinds whose amounts add up to the need; a bound on it if that takes long.

    Where all of them together don't reach the need, the cost of all.

    >>> least_cover([Cover(10, 7, 9), Cover(4, 3, 9)], 18)
    13
    """
    kinds = sorted((kind for kind in kinds if kind.quantity), key=lambda kind: kind.cost / kind.amount)
    search = _LeastCover(kinds)
    search.look(0, need, 0)
    return search.best if search.nodes < MOST_NODES else min(search.best, search.least_open)


class _LeastCover:
    """Depth first over the kinds, most of the cheapest first, cut off by the divisible bound."""

    def __init__(self, kinds: list[Cover]) -> None:
        self.kinds = kinds
        self.best = sum(kind.cost * kind.quantity for kind in kinds)
        self.nodes = 0
        self.least_open = self.best

    def look(self, index: int, need: int, spent: int) -> None:
        if need <= 0:
            self.best = min(self.best, spent)
            return
        floor = spent + self._divisible(index, need)
        if index == len(self.kinds) or floor >= self.best:
            return
        self.nodes += 1
        if self.nodes >= MOST_NODES:
            self.least_open = min(self.least_open, floor)
            return
        kind = self.kinds[index]
        for count in range(min(kind.quantity, -(-need // kind.amount)), -1, -1):
            self.look(index + 1, need - count * kind.amount, spent + count * kind.cost)

    def _divisible(self, index: int, need: int) -> int:
        """Cost of covering the need if sheets could be bought by the piece, rounded up."""
        cost = 0
        for kind in self.kinds[index:]:
            whole = min(kind.quantity, need // kind.amount)
            cost += whole * kind.cost
            need -= whole * kind.amount
            if need <= 0:
                return cost
            if whole < kind.quantity:
                return cost - (-need * kind.cost // kind.amount)
        return cost
