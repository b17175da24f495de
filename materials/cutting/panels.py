"""Plan the cutting of sheets: the least cost first, then the fewest sheets, then the largest leftover."""

from __future__ import annotations

import time
from random import Random

from materials.cutting.blocks import Layout
from materials.cutting.faults import CannotCut, Fault
from materials.cutting.first_plan import shaken_plans, steady_plans
from materials.cutting.lay_out import lay_out
from materials.cutting.panel_bound import area_bound
from materials.cutting.search import Search
from materials.cutting.sheet_checks import check_sheet_problem
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.sheet_problem import SheetProblem
from materials.cutting.widened import Widened, widen


def solve_panels(problem: SheetProblem, search: Search[SheetPlan] | None = None) -> SheetPlan:
    """The best plan found within the search's time.

    Raises CannotCut if the problem makes no sense, a part goes into no sheet, or no plan was found that makes
    do with the sheets on hand. The first plan comes at once, however short the time; it and every better one
    after it are told to `search.on_better`.
    """
    search = Search[SheetPlan]() if search is None else search
    check_sheet_problem(problem)
    if not problem.parts:
        return SheetPlan(problem, (), how="nothing to cut")
    widened = widen(problem)
    best = _Best(problem, widened, search)
    for layout in steady_plans(widened):
        best.offer(layout, "filling")
        if search.is_over():
            break
    _keep_filling(best, search)
    return best.answer()


def _keep_filling(best: _Best, search: Search[SheetPlan]) -> None:
    for layout in shaken_plans(best.widened, Random(1)):
        if layout is not None:
            best.offer(layout, "filling")
        if best.is_proven() or search.is_over():
            return


class _Best:
    """The best plan so far, told of whenever it gets better."""

    def __init__(self, problem: SheetProblem, widened: Widened, search: Search[SheetPlan]) -> None:
        self.problem = problem
        self.widened = widened
        self.search = search
        self.bound = area_bound(widened)
        self.plan: SheetPlan | None = None

    def offer(self, layout: Layout, how: str) -> None:
        """Take the layout if it makes a better plan."""
        cost = sum(self.widened.blanks[filled.blank].cost for filled in layout)
        if self.plan is not None and (cost, len(layout)) > self.plan.rank()[:2]:
            return
        sheets = lay_out(self.problem, self.widened, layout)
        seconds = time.monotonic() - self.search.started
        plan = SheetPlan(self.problem, sheets, self.bound, seconds, how)
        if self.plan is None or plan.rank() < self.plan.rank():
            self.plan = plan
            self.search.on_better(plan)

    def is_proven(self) -> bool:
        """No plan can cost less than the best so far."""
        return self.plan is not None and self.plan.proven

    def answer(self) -> SheetPlan:
        """The best plan."""
        if self.plan is None:
            fault = Fault("stock", None, "No plan was found that makes do with the sheets on hand")
            raise CannotCut((fault,))
        return self.plan
