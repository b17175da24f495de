"""The best plan of sheets so far, and how far there is to go."""

from __future__ import annotations

import time
from dataclasses import replace

from materials.cutting.blocks import Layout
from materials.cutting.faults import CannotCut, Fault
from materials.cutting.lay_out import lay_out
from materials.cutting.panel_bound import area_bound, fewest_sheets
from materials.cutting.price_sums import PriceSums
from materials.cutting.search import Search
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.sheet_problem import SheetProblem
from materials.cutting.widened import Widened


class BestPanels:
    """Keeps the best plan and its layout; each better one is told of at once."""

    def __init__(self, problem: SheetProblem, widened: Widened, search: Search[SheetPlan]) -> None:
        self.problem = problem
        self.widened = widened
        self.search = search
        self.bound = area_bound(widened)
        self.fewest = fewest_sheets(widened)
        self.plan: SheetPlan | None = None
        self.layout: Layout = []
        self.sums: PriceSums | None = None

    def offer(self, layout: Layout, how: str) -> bool:
        """Take the layout if it makes a better plan; was it taken?"""
        cost = sum(self.widened.blanks[filled.blank].cost for filled in layout)
        if self.plan is not None and (cost, len(layout)) > self.plan.rank()[:2]:
            return False
        sheets = lay_out(self.problem, self.widened, layout)
        seconds = time.monotonic() - self.search.started
        plan = SheetPlan(self.problem, sheets, self.bound, seconds, how)
        if self.plan is not None and plan.rank() >= self.plan.rank():
            return False
        self.plan, self.layout = plan, layout
        self.search.on_better(plan)
        return True

    def raise_bound(self, bound: int) -> None:
        """No plan costs less than this, it is now known; so none has fewer sheets than that takes either."""
        self.bound = max(self.bound, self._sum_of_prices(bound))
        dearest = max(blank.cost for blank in self.widened.blanks)
        if dearest:
            self.fewest = max(self.fewest, -(-self.bound // dearest))
        if self.plan is not None:
            self.plan = replace(self.plan, bound=self.bound)

    def _sum_of_prices(self, bound: int) -> int:
        """The least that sheets can cost together from the bound up, as far as the best plan's cost."""
        if self.plan is None or bound > self.plan.cost:
            return bound
        if self.sums is None:
            prices = ((blank.cost, blank.quantity) for blank in self.widened.blanks)
            self.sums = PriceSums(prices, self.plan.cost)
        return self.sums.at_least(bound)

    def is_proven(self) -> bool:
        """No plan can cost less than the best so far."""
        return self.plan is not None and self.plan.proven

    def is_settled(self) -> bool:
        """Neither cost nor number of sheets can be less than the best so far."""
        return self.plan is not None and self.plan.proven and self.plan.sheet_count <= self.fewest

    def largest_leftover(self) -> int:
        """Area of the largest rectangle that the best plan leaves."""
        return 0 if self.plan is None else self.plan.largest_leftover

    def answer(self) -> SheetPlan:
        """The best plan, with the seconds that the whole search took."""
        if self.plan is None:
            fault = Fault("stock", None, "No plan was found that makes do with the sheets on hand")
            raise CannotCut((fault,))
        return replace(self.plan, seconds=time.monotonic() - self.search.started)
