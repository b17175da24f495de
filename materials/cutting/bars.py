"""Boards cut from stock lengths: the least cost, and how near to the least it is known to be."""

from __future__ import annotations

from .bar_attempt import Attempt
from .bar_fill import quick_fillings
from .bar_plan import BarPlan
from .bar_problem import BarProblem, check_problem
from .bar_reach import is_within_reach
from .bar_ruin import ruin_and_recreate
from .bar_tidy import with_longest_leftover
from .search import Search


def solve_bars(problem: BarProblem, search: Search[BarPlan] | None = None) -> BarPlan:
    """The cheapest plan found in the time granted; of equal cost the fewest bars, then the longest leftover.

    Every plan told of on the way and the one returned can be cut. Raises CannotCutError where the input
    makes no sense or the stock does not suffice.
    """
    search = search or Search()
    check_problem(problem)
    if not problem.parts:
        return BarPlan(problem, (), how="nothing to cut")
    attempt = Attempt(problem, search)
    for fillings in quick_fillings(attempt.model, search.is_over):
        attempt.offer(fillings, "filled by rule")
    if not search.is_over() and not attempt.is_best():
        if is_within_reach(attempt.model):
            from .bar_search import search_patterns  # the solver takes a while to load: first a plan

            search_patterns(attempt)
        else:
            _improve_by_rule(attempt)
    attempt.best = with_longest_leftover(attempt.model, attempt.best, search.should_stop)
    return attempt.plan()


def _improve_by_rule(attempt: Attempt) -> None:
    """For what is too large for the pattern search."""
    for fillings in ruin_and_recreate(attempt.model, attempt.best, attempt.is_over):
        if attempt.is_proven():
            return
        attempt.offer(fillings, "filled by rule and improved")
