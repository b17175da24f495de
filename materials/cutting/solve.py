"""One door to both solvers: bars where only the length is cut, panels where both sides are."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from .bar_problem import check_problem
from .faults import CannotCut
from .search import Search, never_stop
from .sheet_checks import check_sheet_problem
from .sheet_plan import SheetPlan
from .sheet_problem import SheetProblem
from .stored import Plan, Problem

if TYPE_CHECKING:
    from .compare import Comparison
    from .sold import Till

MOST_BAR_PIECES_AT_ONCE = 1_000
MOST_SHEET_PIECES_AT_ONCE = 300
"""More pieces than these and even a first plan may keep a reader waiting."""


def solve(
    problem: Problem,
    *,
    seconds: float,
    should_stop: Callable[[], bool] = never_stop,
    on_better: Callable[[Plan], None] = lambda plan: None,
) -> Plan:
    """The best plan found in the time granted; raises CannotCut where there is none."""
    from .bars import solve_bars  # slow import: they bring in the exact solver
    from .panels import solve_panels

    if isinstance(problem, SheetProblem):
        return solve_panels(problem, Search(seconds, should_stop, on_better))
    return solve_bars(problem, Search(seconds, should_stop, on_better))


def parts_amiss(problem: Problem) -> tuple[int, ...]:
    """Which parts keep a problem from having a plan, by their place in it."""
    try:
        check_sheet_problem(problem) if isinstance(problem, SheetProblem) else check_problem(problem)
    except CannotCut as error:
        return tuple(
            fault.index for fault in error.faults if fault.where == "parts" and fault.index is not None
        )
    return ()


def as_sold(plan: Plan, till: Till, *, seconds: float, should_stop: Callable[[], bool] = never_stop) -> Plan:
    """The plan with its stock out of the cheapest packs for so many.

    Where a part of a pack would be left over, one without packs is tried for so long, and taken if cheaper.
    """
    best = till.in_packs(plan)
    others = till.singly() if till.leaves_some(best) else None
    if others is None:
        return best
    try:
        found = solve(others.problem, seconds=seconds, should_stop=should_stop)
    except CannotCut:
        return best
    return min(best, others.put_back(found, plan), key=till.for_plan)


def compare(plan: Plan, seconds: float, till: Till | None = None) -> tuple[Comparison, ...]:
    """What simpler ways to buy and cut the parts of this plan would come to, in the time granted."""
    from .compare import compare_bars, compare_sheets  # slow import: it brings in both solvers

    if isinstance(plan, SheetPlan):
        return compare_sheets(plan, Search(seconds), till)
    return compare_bars(plan, Search(seconds), till)


def is_quick(problem: Problem) -> bool:
    """True where a first plan can be had while somebody waits."""
    most = MOST_SHEET_PIECES_AT_ONCE if isinstance(problem, SheetProblem) else MOST_BAR_PIECES_AT_ONCE
    return problem.pieces() <= most
