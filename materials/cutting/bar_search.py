"""The search for better plans over patterns: floors from the linear program, plans from dives.

Imported only once a first plan stands, since the solver takes a while to load.
"""

from __future__ import annotations

import time
from fractions import Fraction
from math import gcd

from .bar_attempt import Attempt
from .bar_bounds import next_total
from .bar_dive import dives
from .bar_master import SCALE, Master, patterns_of
from .bar_sets import StockSets

FIRST_DIVES = 4
NO_END = 1_000_000_000
SECONDS_FOR_FEWER_BARS = 1.0


def search_patterns(attempt: Attempt) -> None:
    """Improve the attempt until its cost is proven or the time is over."""
    master = Master(attempt.model)
    for fillings in attempt.offers:
        master.add(patterns_of(fillings))
    relaxed = master.relax(attempt.is_over)
    if relaxed is None:
        return
    attempt.raise_bound(next_total(attempt.model, Fraction(relaxed.floor * master.money, SCALE)))
    if attempt.model.counts_bars_only:
        _dive_for_fewer_bars(attempt, master)
    else:
        _search_sets(attempt, master)


def _dive_for_fewer_bars(attempt: Attempt, master: Master) -> None:
    """Stock of one kind: every plan is judged by the number of its bars alone."""
    step = gcd(*(attempt.model.charges[s] for s in attempt.model.stock_order)) or 1
    plans = dives(
        master,
        target=lambda: attempt.cost - step,
        is_over=lambda: attempt.is_over() or attempt.is_proven(),
        seed=1,
        limits=master.limits_of_stock,
        most_dives=NO_END,
    )
    for fillings in plans:
        attempt.offer(fillings, "patterns settled one after the other")


def _search_sets(attempt: Attempt, master: Master) -> None:
    """Stock of several kinds: the cheapest set of bars and how to cut it, then fewer bars at that cost."""
    sets = StockSets(attempt.model, master.patterns, attempt.cost)
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
