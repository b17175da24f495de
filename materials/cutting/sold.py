"""Boards and sheets are sold in packs: how many are opened for so many pieces, and what do they come to?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff.packs import choose_packs, whole_packs
from materials.takeoff.specs import PackSize

from .bar_problem import BarStock
from .sheet_problem import SheetStock
from .stored import Plan, Problem
from .uses import uses_of


@dataclass(frozen=True)
class Sold:
    """How one stock is sold: so many in a pack at a price; `begun` are left of packs that are paid for.

    What lies on the rack is as if sold singly, at what it is worth.
    """

    pack: Decimal
    price: Decimal
    begun: int = 0

    def packs_for(self, pieces: int) -> int:
        """Packs to open for so many pieces; what is left of those begun goes first.

        >>> [Sold(Decimal(6), Decimal(60), begun=5).packs_for(pieces) for pieces in (5, 6, 12)]
        [0, 1, 2]
        """
        return whole_packs(Decimal(max(0, pieces - self.begun)), self.pack)


def begun_of(pack: Decimal, sawn: int) -> int:
    """How many are left of the packs that so many have been sawn from.

    >>> begun_of(Decimal(6), 1), begun_of(Decimal(6), 12)
    (5, 0)
    """
    return int(whole_packs(Decimal(sawn), pack) * pack) - sawn


@dataclass(frozen=True)
class Till:
    """What pieces of a problem's stock come to in whole packs. Pieces alike are sold in packs of any size."""

    problem: Problem
    sold: Sequence[Sold]

    def packs(self, stock: int, pieces: int) -> dict[int, int]:
        """The cheapest packs to open for so many pieces like this stock, besides those that are begun."""
        alike = self.alike(stock)
        short = max(0, pieces - sum(self.sold[at].begun for at in alike))
        offers = {PackSize(self.sold[at].pack, self.sold[at].price): at for at in alike}
        chosen = choose_packs(Decimal(short), tuple(offers)) if short else ()
        return {offers[size]: count for size, count in chosen}

    def to_pay(self, stock: int, pieces: int) -> Decimal:
        """What those packs cost."""
        return sum(
            (self.sold[at].price * count for at, count in self.packs(stock, pieces).items()), Decimal(0)
        )

    def for_plan(self, plan: Plan) -> Decimal:
        """What all the stock of a plan costs; pieces alike are bought together."""
        pieces: Counter[int] = Counter()
        for use in uses_of(plan):
            pieces[self.alike(use.stock)[0]] += use.repeat
        return sum((self.to_pay(stock, count) for stock, count in pieces.items()), Decimal(0))

    def alike(self, stock: int) -> list[int]:
        """This stock and others of its very size that there is no end of; an offcut stands by itself."""
        all_stock: Sequence[BarStock | SheetStock] = self.problem.stock
        one = all_stock[stock]
        if one.quantity is not None:
            return [stock]
        return [
            at
            for at, other in enumerate(all_stock)
            if other.quantity is None and _measures(other) == _measures(one)
        ]


def by_the_piece(problem: Problem) -> Till:
    """All of it sold singly at what the problem says it costs."""
    return Till(problem, [Sold(Decimal(1), Decimal(stock.cost)) for stock in problem.stock])


def _measures(stock: BarStock | SheetStock) -> tuple[int, ...]:
    if isinstance(stock, SheetStock):
        return stock.width_mm10, stock.height_mm10
    return (stock.length_mm10,)
