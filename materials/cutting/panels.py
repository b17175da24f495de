"""Plan the cutting of sheets: the least cost first, then the fewest sheets, then the largest leftover."""

from __future__ import annotations

from random import Random

from materials.cutting.best_panels import BestPanels
from materials.cutting.first_plan import shaken_plans, steady_plans
from materials.cutting.gapless import gapless_layout
from materials.cutting.leftover_search import larger_leftovers
from materials.cutting.recreate_search import MOST_PIECES, Helper, compiled_search, searcher_for
from materials.cutting.search import Search
from materials.cutting.sheet_checks import check_sheet_problem
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.sheet_problem import SheetProblem
from materials.cutting.widened import widen

SHARE_FOR_BOUND = 0.25
SHARE_FOR_LEFTOVER = 0.2
SHARE_FOR_GAPLESS = 0.25
PATIENCE = 1.0  # seconds that a plan which can't get cheaper waits for the search for a larger leftover


def solve_panels(problem: SheetProblem, search: Search[SheetPlan] | None = None) -> SheetPlan:
    """The best plan found within the search's time.

    Raises CannotCut if the problem makes no sense, a part goes into no sheet, or no plan was found that makes
    do with the sheets on hand. The first plan comes at once, however short the time; it and every better one
    after it are told to `search.on_better`, in the caller's own thread.
    """
    search = Search[SheetPlan]() if search is None else search
    check_sheet_problem(problem)
    if not problem.parts:
        return SheetPlan(problem, (), how="nothing to cut")
    widened = widen(problem)
    best = BestPanels(problem, widened, search)
    for layout in steady_plans(widened):
        best.offer(layout, "filling")
        if search.is_over():
            break
    _fit_without_gap(best, search)
    _search_on(best, search)
    return best.answer()


def make_ready() -> None:
    """Get the compiled search ready ahead of the first plan, at the start of a server say. Doesn't wait."""
    compiled_search.make_ready()


def wait_until_ready(seconds: float = 300.0) -> bool:
    """Get the compiled search ready and wait for it, so long at most. Does it work?"""
    make_ready()
    return compiled_search.wait(seconds) and compiled_search.works


def _fit_without_gap(best: BestPanels, search: Search[SheetPlan]) -> None:
    """Where the parts have just the area of one sheet, use a part of the time to fill it without a gap."""
    if best.is_settled():
        return
    until = search.seconds_left() * (1.0 - SHARE_FOR_GAPLESS)
    layout = gapless_layout(best.widened, lambda: search.is_over() or search.seconds_left() < until)
    if layout is not None:
        best.offer(layout, "blocks of equal sides")


def _search_on(best: BestPanels, search: Search[SheetPlan]) -> None:
    """Go on until the time is over or there is nothing left to find."""
    small_enough = best.widened.piece_count <= MOST_PIECES
    if search.is_over():
        return
    if small_enough:
        compiled_search.make_ready()
    _fill(best, search, until_ready=small_enough)
    if small_enough and compiled_search.wait(min(PATIENCE, search.seconds_left())) and compiled_search.works:
        if not best.is_settled():
            with Helper(best.widened, best.layout) as helper:
                _recreate(helper, best, search)
        _leave_more(best, search)


def _fill(best: BestPanels, search: Search[SheetPlan], *, until_ready: bool) -> None:
    """Go on filling sheets; if need be until the compiled search is ready, and then less and less eagerly.

    The compiler and this thread can't both run, so after a second this one steps back.
    """
    if best.is_settled():
        return
    rest = 0.0
    for layout in shaken_plans(best.widened, Random(1), search.is_over):
        if layout is not None:
            best.offer(layout, "filling")
        if search.is_over() or best.is_settled():
            return
        if until_ready and compiled_search.wait(rest) and compiled_search.works:
            return
        rest = 0.08 if search.seconds - search.seconds_left() > 1.0 else 0.0


def _recreate(helper: Helper, best: BestPanels, search: Search[SheetPlan]) -> None:
    """Two threads of ruin and recreate, this one and the helper's; this one begins by raising the bound."""
    _raise_bound(helper, best, search)
    mine = searcher_for(best.widened, best.layout, 1)
    while not (search.is_over() or best.is_settled()):
        found = [layout for layout in (mine.step(), helper.take()) if layout is not None]
        taken = [best.offer(layout, "ruin and recreate") for layout in found]
        if any(taken):
            helper.aim_below(best.layout)
        if found:
            mine.aim_below(best.layout)


def _leave_more(best: BestPanels, search: Search[SheetPlan]) -> None:
    """With cost and sheets settled, use a part of the time that is left for a larger leftover."""
    until = search.seconds_left() * (1.0 - SHARE_FOR_LEFTOVER)

    def is_over() -> bool:
        return search.is_over() or search.seconds_left() < until

    for layout in larger_leftovers(best.widened, best.layout, best.largest_leftover, is_over):
        best.offer(layout, "ruin and recreate")


def _raise_bound(helper: Helper, best: BestPanels, search: Search[SheetPlan]) -> None:
    """Use a part of the time to learn how little the sheets can cost, as long as that may prove the plan."""
    from materials.cutting.panel_lp import sheet_floor_for  # slow import: the solver, and the compiled search

    until = search.seconds_left() * (1.0 - SHARE_FOR_BOUND)
    floor = None if best.is_settled() else sheet_floor_for(best.widened, best.layout)
    while floor is not None and not floor.solved and search.seconds_left() > until:
        floor.step()
        best.raise_bound(floor.floor)
        found = helper.take()
        if found is not None and best.offer(found, "ruin and recreate"):
            helper.aim_below(best.layout)
        if best.is_proven() or search.is_over():
            return
