"""Whole plans out of fractional ones: settle a few bars, solve what is left anew, and so on down.

Each dive leans another way: what it settles is drawn at random among the patterns that the linear
program likes best, so that a dive that ends a bar too dear is no loss for the next.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from .bar_fill import LARGEST_BITSET, bar_by_bar, fullest_fill, greedy_fill, shrink
from .bar_master import Master, fillings_of
from .bar_pricing import Pattern
from .cut_model import CutModel, Filling

NEARLY = 1e-6
FEW_KINDS = 50


@dataclass
class Dive:
    """What has been settled so far and what is left to do."""

    demand: list[int]
    limits: list[int]
    cost: int = 0
    settled: Counter[Pattern] = field(default_factory=Counter)


def dives(
    master: Master,
    *,
    target: Callable[[], int],
    is_over: Callable[[], bool],
    seed: int,
    limits: Sequence[int],
    most_dives: int,
) -> Iterator[list[Filling]]:
    """Complete plans of dive after dive; a dive is broken off once it cannot cost `target()` or less.

    `limits` are those of the master's limited stock. The first dive draws nothing at random.
    """
    rng = random.Random(seed)
    for number in range(most_dives):
        if is_over():
            return
        start = Dive(list(master.model.demand), list(limits))
        yield from _dive(master, start, target, is_over, rng if number else None)


def _dive(
    master: Master,
    dive: Dive,
    target: Callable[[], int],
    is_over: Callable[[], bool],
    rng: random.Random | None,
) -> Iterator[list[Filling]]:
    model = master.model
    while any(dive.demand):
        master.ask_for(dive.demand, dive.limits)
        allowed = (target() - dive.cost) / master.money + NEARLY
        relaxed = master.relax(is_over, enough=allowed)
        if relaxed is None or relaxed.cost > allowed:
            return
        settled_before = bool(dive.settled)
        _settle(master, dive, relaxed.amounts, rng)
        is_beginning = rng is None and not settled_before
        rest = _rest_by_rule(master, dive, is_over, even_if_many=is_beginning)
        if rest is not None and dive.cost + model.cost_of(rest) <= target():
            yield _whole(model, dive, rest)
    if dive.cost <= target():
        yield _whole(model, dive, [])


def _settle(master: Master, dive: Dive, amounts: np.ndarray, rng: random.Random | None) -> None:
    """Take the whole part of every amount; if there is none, one of the patterns nearest to one."""
    whole = np.floor(amounts + NEARLY)
    columns = whole.nonzero()[0]
    if columns.size:
        for column in sorted(map(int, columns), key=lambda c: -amounts[c]):
            _take(master, dive, column, int(whole[column]))
    elif rng is None:
        _take(master, dive, int(amounts.argmax()), 1)
    else:
        _take(master, dive, rng.choices(range(len(amounts)), weights=list(amounts**3))[0], 1)


def _take(master: Master, dive: Dive, column: int, times: int) -> None:
    """Settle a pattern so often, or as often as what is left to cut has room for it."""
    pattern = master.patterns[column]
    times = min(times, *(dive.demand[i] // count for i, count in pattern.counts))
    if pattern.stock in master.limited:
        at = master.limited.index(pattern.stock)
        times = min(times, dive.limits[at])
        dive.limits[at] -= times
    if times > 0:
        for i, count in pattern.counts:
            dive.demand[i] -= count * times
        dive.cost += master.model.charges[pattern.stock] * times
        dive.settled[pattern] += times


def _rest_by_rule(
    master: Master, dive: Dive, is_over: Callable[[], bool], *, even_if_many: bool
) -> list[Filling] | None:
    """What is left, filled bar by bar, once so few kinds are left that it is quick and may well succeed."""
    kinds = sum(count > 0 for count in dive.demand)
    if not kinds or (kinds > FEW_KINDS and not even_if_many):
        return None
    model = master.model
    limits = list(model.limits)
    for stock, left in zip(master.limited, dive.limits, strict=True):
        limits[stock] = left
    part = CutModel(model.lengths, tuple(dive.demand), model.rooms, model.charges, tuple(limits))
    fill = fullest_fill if model.largest_room <= LARGEST_BITSET else greedy_fill
    return shrink(part, bar_by_bar(part, dive.demand, fill, is_over))


def _whole(model: CutModel, dive: Dive, rest: list[Filling]) -> list[Filling]:
    return [*fillings_of(dive.settled), *rest]
