"""Boards cut from stock lengths: the least cost, and how near to the least it is known to be."""

from __future__ import annotations

import time

from .bar_attempt import Attempt
from .bar_fill import quick_fillings
from .bar_plan import BarPlan
from .bar_problem import BarProblem, check_problem
from .bar_ruin import ruin_and_recreate
from .bar_tidy import with_longest_leftover
from .cut_model import Filling, model_of, plan_from, with_missing_stock
from .faults import CannotCut, Fault, in_mm
from .search import Search

QUICK_SECONDS = 0.3
MOST_LISTED = 5


def solve_bars(problem: BarProblem, search: Search[BarPlan] | None = None) -> BarPlan:
    """The cheapest plan found in the time granted; of equal cost the fewest bars, then the longest leftover.

    Every plan told of on the way and the one returned can be cut. Raises CannotCut where the input
    makes no sense or the stock does not suffice.
    """
    search = search or Search()
    check_problem(problem)
    if not problem.parts:
        return BarPlan(problem, (), how="nothing to cut")

    def tell(attempt: Attempt) -> None:
        if not _missing(problem, attempt.best):
            search.on_better(_plan(problem, search, attempt))

    attempt = Attempt(with_missing_stock(model_of(problem)), search.is_over, search.seconds_left, tell)
    _improve(attempt)
    missing = _missing(problem, attempt.best)
    if missing:
        raise CannotCut((_not_enough(problem, missing, attempt.is_proven()),))
    attempt.rearrange(with_longest_leftover(attempt.model, attempt.best, search.should_stop))
    return _plan(problem, search, attempt)


def _improve(attempt: Attempt) -> None:
    """From the quickest way to the most thorough, as long as there is time and something to gain."""
    quick_until = time.monotonic() + QUICK_SECONDS
    for fillings in quick_fillings(
        attempt.model, lambda: attempt.is_over() or time.monotonic() > quick_until
    ):
        attempt.offer(fillings, "filled by rule")
    if not (attempt.is_over() or attempt.is_best()):
        from .bar_search import search_patterns  # the solver takes a while to load: first a plan

        search_patterns(attempt)
    for fillings in ruin_and_recreate(
        attempt.model, attempt.best, lambda: attempt.is_over() or attempt.is_proven()
    ):
        attempt.offer(fillings, "bars filled anew")


def _plan(problem: BarProblem, search: Search[BarPlan], attempt: Attempt) -> BarPlan:
    bound = min(attempt.bound, attempt.cost)
    seconds = time.monotonic() - search.started
    return plan_from(problem, attempt.best, bound, seconds, attempt.how)


def _missing(problem: BarProblem, fillings: list[Filling]) -> list[Filling]:
    """Bars of the stock that is not there."""
    return [f for f in fillings if f.stock >= len(problem.stock)]


def _not_enough(problem: BarProblem, missing: list[Filling], is_proven: bool) -> Fault:
    """Which lengths found no stock, and how many of each; that none could do better is said only if so."""
    lengths = sorted({part.length_mm10 for part in problem.parts}, reverse=True)
    counts = [sum(f.lengths.count(i) * f.repeat for f in missing) for i in range(len(lengths))]
    lacking = [f"{n} × {in_mm(length)}" for length, n in zip(lengths, counts, strict=True) if n]
    listed = ", ".join(lacking[:MOST_LISTED]) + (" and more" if len(lacking) > MOST_LISTED else "")
    opening = (
        "The stock does not suffice" if is_proven else "No way was found to cut all from the stock there is"
    )
    return Fault("stock", None, f"{opening}: nothing is left for {listed}")
