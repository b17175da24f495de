"""Boards cut from stock lengths: the least cost, and how near to the least it is known to be."""

from __future__ import annotations

from collections.abc import Iterable

from .bar_bounds import length_bound
from .bar_fill import quick_fillings
from .bar_plan import BarPlan
from .bar_problem import BarProblem, CannotCutError, Fault, check_problem, in_mm
from .bar_ruin import ruin_and_recreate
from .cut_model import CutModel, Filling, model_of, plan_from
from .search import Search


def solve_bars(problem: BarProblem, search: Search[BarPlan] | None = None) -> BarPlan:
    """The cheapest plan found in the time granted; of equal cost the fewest bars, then the longest leftover.

    Every plan told of on the way and the one returned can be cut. Raises CannotCutError where the input makes
    no sense or the stock does not suffice.
    """
    search = search or Search()
    check_problem(problem)
    if not problem.parts:
        return BarPlan(problem, (), how="nothing to cut")
    return _Attempt(problem, search).run()


class _Attempt:
    """The best plan so far, and what has been shown about the cost of any plan."""

    def __init__(self, problem: BarProblem, search: Search[BarPlan]) -> None:
        self.problem = problem
        self.search = search
        self.model = with_missing_stock(model_of(problem))
        self.bound = length_bound(self.model)
        self.best: list[Filling] | None = None
        self.rank: tuple[int, int] | None = None
        self.how = ""

    def run(self) -> BarPlan:
        for fillings in quick_fillings(self.model, self.search.is_over):
            self.offer(fillings, "filled by rule")
        for fillings in ruin_and_recreate(self.model, self.best or [], self.search.is_over):
            if self.is_done():
                break
            self.offer(fillings, "filled by rule and improved")
        return self.plan()

    def is_done(self) -> bool:
        """True once nothing cheaper can exist."""
        return self.rank is not None and self.rank[0] <= self.bound

    def offer(self, fillings: list[Filling], how: str) -> None:
        """Keep these fillings if they are better than what there is, and tell the caller."""
        rank = (self.model.cost_of(fillings), sum(f.repeat for f in fillings))
        if self.rank is None or rank < self.rank:
            self.best, self.rank, self.how = fillings, rank, how
            if not self._missing(fillings):
                self.search.on_better(self.plan())

    def plan(self) -> BarPlan:
        """The best so far as a plan, or CannotCutError where the stock on hand does not suffice."""
        fillings = self.best or []
        missing = self._missing(fillings)
        if missing:
            raise CannotCutError(tuple(_not_enough(self.problem, self.model, missing)))
        seconds = self.search.seconds - self.search.seconds_left()
        return plan_from(self.problem, fillings, self.bound, seconds, self.how)

    def _missing(self, fillings: Iterable[Filling]) -> list[Filling]:
        return [f for f in fillings if f.stock >= len(self.problem.stock)]


def with_missing_stock(model: CutModel) -> CutModel:
    """Add a stock that is not there, without limit but dearer than all there is, if stock can run out.

    Plans are then always complete, and one that takes of it says what is lacking.
    """
    endless = [model.rooms[s] for s in model.stock_order if model.limits[s] is None]
    if max(endless, default=0) >= model.lengths[0]:
        return model
    pieces = sum(model.demand)
    dearest = (
        sum(c * (pieces if n is None else n) for c, n in zip(model.charges, model.limits, strict=True)) + 1
    )
    return CutModel(
        lengths=model.lengths,
        demand=model.demand,
        rooms=(*model.rooms, model.largest_room),
        charges=(*model.charges, dearest),
        limits=(*model.limits, None),
    )


def _not_enough(problem: BarProblem, model: CutModel, missing: list[Filling]) -> list[Fault]:
    """Which lengths found no stock, and how many of each."""
    unit_lengths = sorted({part.length_mm10 for part in problem.parts}, reverse=True)
    faults = []
    for i, length in enumerate(unit_lengths):
        count = sum(f.lengths.count(i) * f.repeat for f in missing)
        if count:
            message = f"The stock does not suffice: {count} of {in_mm(length)} are left over"
            faults.append(Fault("stock", None, message))
    return faults
