"""The search for better plans over patterns: floors from the linear program, plans from dives.

Imported only once a first plan stands, since the solver takes a while to load.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from math import gcd

from .bar_attempt import Attempt
from .bar_bounds import next_total
from .bar_decide import choose, patterns_of_a_plan
from .bar_dive import dives
from .bar_fill import quick_fillings
from .bar_lots import fill_in_lots
from .bar_master import Master, fillings_of, patterns_of
from .bar_reach import is_within_reach
from .bar_sets import StockSets
from .cut_model import CutModel, Filling

FIRST_DIVES = 4
NO_END = 1_000_000_000
SECONDS_FOR_FEWER_BARS = 1.0
MOST_KINDS_AT_ONCE = 250
FEW_OF_A_KIND = 5
MOST_SECONDS_A_LOT = 2.0
SHARE_FOR_LOTS = 0.8
SHARE_FOR_BOUND = 0.7


def search_patterns(attempt: Attempt) -> None:
    """Improve the attempt until its cost is proven or the time is over."""
    kinds, pieces = len(attempt.model.lengths), sum(attempt.model.demand)
    if kinds > MOST_KINDS_AT_ONCE and pieces < FEW_OF_A_KIND * kinds:
        _search_in_lots(attempt)
    if is_within_reach(attempt.model) and not attempt.is_over():
        _search_at_once(attempt)


def _search_in_lots(attempt: Attempt) -> None:
    """Where nearly every piece has a length of its own, the linear program grows slow: solve lots of them."""
    enough_at = time.monotonic() + SHARE_FOR_LOTS * attempt.seconds_left()

    def is_over() -> bool:
        return attempt.is_over() or time.monotonic() > enough_at

    def solve(part: CutModel) -> list[Filling]:
        give_up_at = time.monotonic() + MOST_SECONDS_A_LOT
        lot = Attempt(
            part,
            is_over=lambda: is_over() or time.monotonic() > give_up_at,
            seconds_left=lambda: give_up_at - time.monotonic(),
        )
        for fillings in quick_fillings(part, lot.is_over):
            lot.offer(fillings, "")
        if not (lot.is_proven() or lot.is_over()):
            _search_at_once(lot)
        return lot.best

    attempt.offer(fill_in_lots(attempt.model, solve, is_over), "solved in lots")


def _search_at_once(attempt: Attempt) -> None:
    master = Master(attempt.model)
    for fillings in attempt.offers:
        master.add(patterns_of(fillings))
    enough_at = time.monotonic() + SHARE_FOR_BOUND * attempt.seconds_left()
    relaxed = master.relax(lambda: attempt.is_over() or time.monotonic() > enough_at)
    if relaxed is None:
        return
    attempt.raise_bound(next_total(attempt.model, relaxed.floor))
    if attempt.model.counts_bars_only:
        _dive(attempt, master, FIRST_DIVES)
        _decide(attempt, master.values_at(relaxed.duals))
        _dive(attempt, master, NO_END)
    else:
        sets = StockSets(master, relaxed.duals, attempt.cost)
        counts = sets.next_set(attempt.model.charges, attempt.cost - 1)
        attempt.raise_bound(attempt.cost if counts is None else sets.cost_of(counts))
        _dive(attempt, master, 1)
        _search_sets(attempt, sets)


def _dive(attempt: Attempt, master: Master, most_dives: int) -> None:
    """Settle patterns by the cost alone; with stock of one kind that is all there is to choose."""
    step = gcd(*(attempt.model.charges[s] for s in attempt.model.stock_order)) or 1
    plans = dives(
        master,
        target=lambda: attempt.cost - step,
        is_over=lambda: attempt.is_over() or attempt.is_proven(),
        seed=1,
        limits=master.limits_of_stock,
        most_dives=most_dives,
    )
    for fillings in plans:
        attempt.offer(fillings, "patterns settled one after the other")


def _decide(attempt: Attempt, values: Sequence[int]) -> None:
    """Where the dives left a gap of one bar: find the plan at the bound among all its patterns, or none."""
    model = attempt.model
    charge = model.charges[model.stock_order[0]]
    if attempt.is_over() or attempt.is_proven() or attempt.cost - attempt.bound != charge:
        return
    bars = attempt.bound // charge
    patterns = patterns_of_a_plan(model, values, bars)
    if patterns is None:
        return
    give_up_at = time.monotonic() + attempt.seconds_left() / 2
    chosen = choose(model, patterns, bars, lambda: attempt.is_over() or time.monotonic() > give_up_at)
    if chosen is None:
        attempt.raise_bound(attempt.cost)
    elif chosen:
        attempt.offer(fillings_of(chosen), "chosen from all patterns of such a plan")


def _search_sets(attempt: Attempt, sets: StockSets) -> None:
    """Stock of several kinds: the cheapest set of bars and how to cut it, then fewer bars at that cost."""
    seed, most_dives = 1, FIRST_DIVES
    while not (attempt.is_over() or attempt.is_proven()):
        _cheapest_set(attempt, sets, seed, most_dives)
        sets.refused.clear()
        seed, most_dives = seed + 1, most_dives * 2
    _fewest_bars(attempt, sets)


def _cheapest_set(attempt: Attempt, sets: StockSets, seed: int, most_dives: int) -> None:
    """Try sets from cheap to dear until one can be cut, or until none is left that would be cheaper."""
    while not attempt.is_over():
        counts = sets.next_set(attempt.model.charges, attempt.cost - 1)
        if not sets.refused:
            attempt.raise_bound(attempt.cost if counts is None else sets.cost_of(counts))
        if counts is None or attempt.is_proven():
            return
        too_small = sets.is_too_small(counts, attempt.is_over)
        if too_small is None:
            return
        if too_small:
            continue
        fillings = sets.cut(counts, attempt.is_over, seed, most_dives)
        if fillings is not None:
            attempt.offer(fillings, "cheapest set of bars that can be cut")
            return
        sets.refused.append(counts)


def _fewest_bars(attempt: Attempt, sets: StockSets) -> None:
    """The cost is settled: try sets of the same cost with fewer bars, for a moment."""
    ones = [1] * len(attempt.model.rooms)
    give_up_at = time.monotonic() + SECONDS_FOR_FEWER_BARS

    def is_over() -> bool:
        return attempt.is_over() or time.monotonic() > give_up_at

    while not is_over():
        counts = sets.next_set(ones, attempt.cost, attempt.bar_count - 1)
        if counts is None:
            return
        too_small = sets.is_too_small(counts, is_over)
        if too_small is None:
            return
        if too_small:
            continue
        fillings = sets.cut(counts, is_over, 1, FIRST_DIVES)
        if fillings is None:
            sets.refused.append(counts)
        else:
            attempt.offer(fillings, "fewest bars at the least cost")
