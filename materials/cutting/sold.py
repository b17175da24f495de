"""Boards and sheets are sold in packs: how many are opened for so many pieces, and what do they come to?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from materials.takeoff.packs import choose_packs, whole_packs
from materials.takeoff.specs import PackSize

from .bar_problem import BarStock
from .sheet_plan import SheetPlan
from .sheet_problem import SheetStock
from .stored import Plan, Problem, plan_data, plan_from, problem_data, problem_from
from .uses import Use, uses_of


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


def sold_as(
    offers: Iterable[tuple[int | None, Decimal, Decimal]], sawn: Iterable[int | None]
) -> tuple[Sold, ...]:
    """How stock is sold, from the size, pack and price of each, and the sizes that have been sawn so far.

    What lies on the rack is of no size.
    """
    pieces = Counter(size for size in sawn if size)
    return tuple(Sold(pack, price, begun_of(pack, pieces[size or 0])) for size, pack, price in offers)


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
        counts = self._counts(plan).items()
        return sum((self.to_pay(stock, count) for stock, count in counts), Decimal(0))

    def in_packs(self, plan: Plan) -> Plan:
        """The plan cut alike, each board or sheet out of the packs that are cheapest for so many."""
        rooms = [sold.begun for sold in self.sold]
        for stock, pieces in self._counts(plan).items():
            for at, count in self.packs(stock, pieces).items():
                rooms[at] += int(count * self.sold[at].pack)
        drawn = [draw for number, use in enumerate(uses_of(plan)) for draw in self._drawn(number, use, rooms)]
        return _cut_from(plan, drawn)

    def _drawn(self, number: int, use: Use, rooms: list[int]) -> Iterator[_Draw]:
        """Where the pieces cut alike come from; what the rack holds the plan has counted already."""
        alike = self.alike(use.stock)
        if len(alike) == 1:
            yield _Draw(number, use.stock, use.repeat)
            return
        left = use.repeat
        for at in alike:
            count = min(left, rooms[at])
            rooms[at] -= count
            left -= count
            if count:
                yield _Draw(number, at, count)

    def leaves_some(self, plan: Plan) -> bool:
        """Is a pack opened of which the plan does not take all?"""
        counts: Counter[int] = Counter()
        for use in uses_of(plan):
            counts[use.stock] += use.repeat
        sold = [(self.sold[at], count) for at, count in counts.items()]
        return any(one.packs_for(count) * one.pack > max(0, count - one.begun) for one, count in sold)

    def singly(self) -> Singly | None:
        """The problem without what is sold in packs; None where that changes nothing or leaves nothing."""
        stock = self.problem.stock
        kept = [at for at, one in enumerate(self.sold) if one.pack == 1 or stock[at].quantity is not None]
        if len(kept) == len(stock) or all(stock[at].quantity is not None for at in kept):
            return None
        data = problem_data(self.problem)
        data["stock"] = [data["stock"][at] for at in kept]
        return Singly(problem_from(data), tuple(kept))

    def _counts(self, plan: Plan) -> Counter[int]:
        """Pieces by the first of the stock that is like theirs."""
        pieces: Counter[int] = Counter()
        for use in uses_of(plan):
            pieces[self.alike(use.stock)[0]] += use.repeat
        return pieces

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


@dataclass(frozen=True)
class Singly:
    """A problem with only some of another's stock, which was known there by the numbers `kept`."""

    problem: Problem
    kept: tuple[int, ...]

    def put_back(self, plan: Plan, whole: Plan) -> Plan:
        """Its plan as one of the whole problem, of which nothing more is known than before."""
        draws = [_Draw(at, self.kept[use.stock], use.repeat) for at, use in enumerate(uses_of(plan))]
        return plan_from(whole.problem, {**plan_data(_cut_from(plan, draws)), "bound": whole.bound})


@dataclass(frozen=True)
class _Draw:
    """So many of one use of a plan, cut from this stock."""

    use: int
    stock: int
    repeat: int


def _cut_from(plan: Plan, draws: Iterable[_Draw]) -> Plan:
    if isinstance(plan, SheetPlan):
        sheets = (replace(plan.sheets[one.use], stock=one.stock, repeat=one.repeat) for one in draws)
        return replace(plan, sheets=tuple(sheets))
    bars = (replace(plan.bars[one.use], stock=one.stock, repeat=one.repeat) for one in draws)
    return replace(plan, bars=tuple(bars))


def by_the_piece(problem: Problem) -> Till:
    """All of it sold singly at what the problem says it costs."""
    return Till(problem, [Sold(Decimal(1), Decimal(stock.cost)) for stock in problem.stock])


def _measures(stock: BarStock | SheetStock) -> tuple[int, ...]:
    if isinstance(stock, SheetStock):
        return stock.width_mm10, stock.height_mm10
    return (stock.length_mm10,)
