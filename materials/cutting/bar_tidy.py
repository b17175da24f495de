"""The same bars, cut so that what is left over lies in one long piece."""

from __future__ import annotations

import time
from collections.abc import Callable

from .bar_fill import LARGEST_BITSET, closest_fill
from .cut_model import CutModel, Filling

MOST_SECONDS = 0.15
MOST_TARGETS = 40


def with_longest_leftover(
    model: CutModel, fillings: list[Filling], should_stop: Callable[[], bool]
) -> list[Filling]:
    """Rearranged so that one bar gives up as much as the others have room for.

    A few of the emptiest bars are tried in turn; against each of the other bars in turn, the pieces of the
    two are dealt out anew so that the other is as full as can be. No bar is added, so no cost.
    """
    if model.largest_room > LARGEST_BITSET:
        return fillings
    bars = [Filling(f.stock, f.lengths) for f in fillings for _ in range(f.repeat)]
    best, best_left = fillings, max((_left(model, bar) for bar in bars), default=0)
    give_up_at = time.monotonic() + MOST_SECONDS
    emptiest = sorted(range(len(bars)), key=lambda at: -_left(model, bars[at]))[:MOST_TARGETS]
    for target in emptiest:
        if should_stop() or time.monotonic() > give_up_at:
            break
        moved = _empty_into_others(model, bars, target, lambda: time.monotonic() > give_up_at)
        if _left(model, moved[target]) > best_left:
            best, best_left = moved, _left(model, moved[target])
    return best


def _left(model: CutModel, bar: Filling) -> int:
    return model.rooms[bar.stock] - model.size_of(bar.lengths)


def _empty_into_others(
    model: CutModel, bars: list[Filling], target: int, is_over: Callable[[], bool]
) -> list[Filling]:
    """Move length out of one bar as long as some other bar takes it, in sweeps over all of them."""
    bars = list(bars)
    moved = True
    while moved and not is_over():
        moved = False
        for other in sorted(range(len(bars)), key=lambda at: -_left(model, bars[at])):
            if other == target or not _left(model, bars[other]) or is_over():
                continue
            pair = _deal_out(model, bars[other], bars[target])
            if pair is not None:
                bars[other], bars[target] = pair
                moved = True
    return bars


def _deal_out(model: CutModel, full: Filling, empty: Filling) -> tuple[Filling, Filling] | None:
    """The pieces of two bars with the first as full as it can be, if that leaves more of the second."""
    both = [*full.lengths, *empty.lengths]
    kinds = sorted(set(both))
    sizes, counts = [model.lengths[i] for i in kinds], [both.count(i) for i in kinds]
    chosen = [kinds[i] for i in closest_fill(sizes, counts, model.rooms[full.stock])]
    rest = list(both)
    for i in chosen:
        rest.remove(i)
    fits = model.size_of(rest) < model.size_of(empty.lengths)
    if not fits or not rest:
        return None
    return Filling(full.stock, tuple(chosen)), Filling(empty.stock, tuple(sorted(rest)))
