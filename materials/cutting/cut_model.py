"""The problem as the solvers see it: distinct lengths with the kerf in them, rooms, charges.

n parts and their n - 1 kerfs fit a bar when the parts, each with one kerf added, fit the bar with one kerf
added. So after adding the kerf on both sides there is no kerf any more, only lengths into rooms.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import gcd

from .bar_plan import BarPlan, CutBar
from .bar_problem import BarProblem


@dataclass(frozen=True)
class Filling:
    """One bar in the solvers' terms: the stock it is of and the lengths in it, by index, longest first."""

    stock: int
    lengths: tuple[int, ...]
    repeat: int = 1


@dataclass(frozen=True)
class CutModel:
    """Distinct lengths (longest first) with how many of each, and stock with its room, charge and limit."""

    lengths: tuple[int, ...]
    demand: tuple[int, ...]
    rooms: tuple[int, ...]
    charges: tuple[int, ...]
    limits: tuple[int | None, ...]

    @cached_property
    def stock_order(self) -> tuple[int, ...]:
        """Stock that there is and that takes some length: longest first, of equals the cheaper first."""
        shortest = min(self.lengths, default=0)
        usable = [s for s, room in enumerate(self.rooms) if room >= shortest and self.limits[s] != 0]
        return tuple(sorted(usable, key=lambda s: (-self.rooms[s], self.charges[s])))

    @cached_property
    def largest_room(self) -> int:
        """The room of the longest stock."""
        return max((self.rooms[s] for s in self.stock_order), default=0)

    @cached_property
    def counts_bars_only(self) -> bool:
        """True where there is but one stock to take, without limit."""
        return len(self.stock_order) == 1 and self.limits[self.stock_order[0]] is None

    def size_of(self, lengths: Iterable[int]) -> int:
        """Room that these lengths take together."""
        return sum(self.lengths[i] for i in lengths)

    def cost_of(self, fillings: Iterable[Filling]) -> int:
        """What these bars count together."""
        return sum(self.charges[f.stock] * f.repeat for f in fillings)

    def with_demand(self, demand: Sequence[int]) -> CutModel:
        """The same stock, other numbers of pieces."""
        return replace(self, demand=tuple(demand))


def model_of(problem: BarProblem) -> CutModel:
    """Merge equal lengths, add the kerf to both sides, divide by what divides all."""
    wanted: dict[int, int] = defaultdict(int)
    for part in problem.parts:
        wanted[part.length_mm10 + problem.kerf_mm10] += part.quantity
    unit = gcd(*wanted) or 1
    lengths = sorted(wanted, reverse=True)
    return CutModel(
        lengths=tuple(length // unit for length in lengths),
        demand=tuple(wanted[length] for length in lengths),
        rooms=tuple((problem.usable_mm10(stock) + problem.kerf_mm10) // unit for stock in problem.stock),
        charges=tuple(stock.charge for stock in problem.stock),
        limits=tuple(stock.quantity for stock in problem.stock),
    )


def with_missing_stock(model: CutModel) -> CutModel:
    """Add a stock that is not there, without limit but dearer than all there is, if stock can run out.

    Plans are then always complete, and one that takes of it says what is lacking.
    """
    endless = [model.rooms[s] for s in model.stock_order if model.limits[s] is None]
    if max(endless, default=0) >= model.lengths[0]:
        return model
    pieces = sum(model.demand)
    at_most = (pieces if limit is None else limit for limit in model.limits)
    dearest = 1 + sum(charge * n for charge, n in zip(model.charges, at_most, strict=True))
    return replace(
        model,
        rooms=(*model.rooms, model.largest_room),
        charges=(*model.charges, dearest),
        limits=(*model.limits, None),
    )


def plan_from(
    problem: BarProblem, fillings: Iterable[Filling], bound: int, seconds: float, how: str
) -> BarPlan:
    """Put the real parts into the fillings; bars cut alike are gathered into one line."""
    supply = _parts_by_length(problem)
    lengths = sorted(supply, reverse=True)
    alike: dict[tuple[int, tuple[int, ...]], int] = defaultdict(int)
    for filling in fillings:
        for _ in range(filling.repeat):
            parts = tuple(supply[lengths[i]].pop() for i in filling.lengths)
            alike[filling.stock, parts] += 1
    bars = [CutBar(stock, parts, repeat) for (stock, parts), repeat in alike.items()]
    return BarPlan(problem, tuple(bars), bound=bound, seconds=seconds, how=how)


def _parts_by_length(problem: BarProblem) -> dict[int, list[int]]:
    """For each length the parts of it, piece by piece, so that the last of the list is taken first."""
    supply: dict[int, list[int]] = defaultdict(list)
    for index in reversed(range(len(problem.parts))):
        part = problem.parts[index]
        supply[part.length_mm10].extend([index] * part.quantity)
    return supply
