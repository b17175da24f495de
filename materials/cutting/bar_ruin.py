"""A plan improved by taking some bars apart and filling them anew."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from .bar_fill import LARGEST_BITSET, Fill, bar_by_bar, fullest_fill, greedy_fill, shrink
from .cut_model import CutModel, Filling

MOST_BARS_AT_ONCE = 8


def ruin_and_recreate(
    model: CutModel, fillings: list[Filling], is_over: Callable[[], bool], seed: int = 1
) -> Iterator[list[Filling]]:
    """Complete plans, each no dearer than the last: a few bars at random are emptied and filled anew."""
    rng = random.Random(seed)
    bars = [Filling(f.stock, f.lengths) for f in fillings for _ in range(f.repeat)]
    cost = model.cost_of(bars)
    fill = fullest_fill if model.largest_room <= LARGEST_BITSET else greedy_fill
    while bars and not is_over():
        emptied = set(rng.sample(range(len(bars)), k=min(len(bars), rng.randint(2, MOST_BARS_AT_ONCE))))
        kept = [bar for at, bar in enumerate(bars) if at not in emptied]
        part = _without(model, kept)
        anew = shrink(part, _fill_in_random_order(part, fill, rng, is_over))
        new_cost = model.cost_of(kept) + model.cost_of(anew)
        if new_cost <= cost:
            bars = kept + [Filling(f.stock, f.lengths) for f in anew for _ in range(f.repeat)]
            cost = new_cost
            yield bars


def _fill_in_random_order(
    model: CutModel, fill: Fill, rng: random.Random, is_over: Callable[[], bool]
) -> list[Filling]:
    """Bar by bar, with a few pieces held back at first so that the same pieces meet in other ways."""
    held = [rng.randint(0, count) if rng.random() < 0.3 else 0 for count in model.demand]
    first = [count - back for count, back in zip(model.demand, held, strict=True)]
    early = bar_by_bar(model, first, fill, is_over) if any(first) else []
    late = bar_by_bar(_less_stock(model, early), held, fill, is_over) if any(held) else []
    return early + late


def _less_stock(model: CutModel, taken: list[Filling]) -> CutModel:
    limits = list(model.limits)
    for filling in taken:
        limit = limits[filling.stock]
        if limit is not None:
            limits[filling.stock] = limit - filling.repeat
    return CutModel(model.lengths, model.demand, model.rooms, model.charges, tuple(limits))


def _without(model: CutModel, kept: list[Filling]) -> CutModel:
    """What is left to cut, and of what, once these bars are as they are."""
    demand = list(model.demand)
    for filling in kept:
        for i in filling.lengths:
            demand[i] -= filling.repeat
    return _less_stock(model.with_demand(demand), kept)
