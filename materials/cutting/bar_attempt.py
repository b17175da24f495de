"""The best plan so far for one problem, and what has been shown about the cost of any plan."""

from __future__ import annotations

import time
from collections.abc import Iterable

from .bar_bounds import length_bound
from .bar_plan import BarPlan
from .bar_problem import BarProblem, CannotCutError, Fault, in_mm
from .cut_model import CutModel, Filling, model_of, plan_from
from .search import Search


class Attempt:
    """Takes offers of plans and floors, keeps the best of each, and tells the caller of better plans."""

    def __init__(self, problem: BarProblem, search: Search[BarPlan]) -> None:
        self.problem = problem
        self.search = search
        self.model = with_missing_stock(model_of(problem))
        self.bound = length_bound(self.model)
        self.offers: list[list[Filling]] = []
        self.best: list[Filling] = []
        self.how = ""

    @property
    def cost(self) -> int:
        """What the best plan so far counts."""
        return self.model.cost_of(self.best)

    @property
    def bar_count(self) -> int:
        """The number of its bars."""
        return sum(filling.repeat for filling in self.best)

    def is_proven(self) -> bool:
        """True once nothing cheaper can exist."""
        return bool(self.best) and self.cost <= self.bound

    def is_best(self) -> bool:
        """True once neither the cost nor the number of bars can be less."""
        return self.is_proven() and (self.model.counts_bars_only or self.bar_count <= 1)

    def is_over(self) -> bool:
        """True once the time is used up or the caller wants what there is."""
        return self.search.is_over()

    def raise_bound(self, bound: int) -> None:
        """No plan costs less than this, as has been shown."""
        self.bound = max(self.bound, bound)

    def offer(self, fillings: list[Filling], how: str) -> None:
        """Keep these fillings if they are better than what there is, and tell the caller."""
        self.offers.append(fillings)
        rank = (self.model.cost_of(fillings), sum(f.repeat for f in fillings))
        if not self.best or rank < (self.cost, self.bar_count):
            self.best, self.how = fillings, how
            if not self._missing():
                self.search.on_better(self.plan())

    def plan(self) -> BarPlan:
        """The best so far as a plan, or CannotCutError where the stock on hand does not suffice."""
        missing = self._missing()
        if missing:
            raise CannotCutError(tuple(self._not_enough(missing)))
        seconds = time.monotonic() - self.search.started
        return plan_from(self.problem, self.best, min(self.bound, self.cost), seconds, self.how)

    def _missing(self) -> list[Filling]:
        """Bars of the stock that is not there."""
        return [f for f in self.best if f.stock >= len(self.problem.stock)]

    def _not_enough(self, missing: Iterable[Filling]) -> list[Fault]:
        """Which lengths found no stock, and how many of each."""
        faults = []
        for i, length in enumerate(sorted({p.length_mm10 for p in self.problem.parts}, reverse=True)):
            count = sum(f.lengths.count(i) * f.repeat for f in missing)
            if count:
                message = f"The stock does not suffice: {count} of {in_mm(length)} are left over"
                faults.append(Fault("stock", None, message))
        return faults


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
    return CutModel(
        lengths=model.lengths,
        demand=model.demand,
        rooms=(*model.rooms, model.largest_room),
        charges=(*model.charges, dearest),
        limits=(*model.limits, None),
    )
