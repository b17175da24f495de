"""Many pieces in lots: each lot is solved well by itself, and its worst bars are handed on to the next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from .cut_model import CutModel, Filling

PIECES_A_LOT = 160
SHARE_HANDED_ON = 8


def fill_in_lots(
    model: CutModel, solve: Callable[[CutModel], list[Filling]], is_over: Callable[[], bool]
) -> list[Filling]:
    """A plan for all pieces out of plans for lots; every lot has its share of long and of short pieces.

    Of each lot but the last, one bar in `SHARE_HANDED_ON`, the dearest for the length cut from it, is taken
    apart again and its pieces go into the next lot, where there is more to choose from. Once the time is
    over, all that is left makes the last lot.
    """
    pieces = [i for i, count in enumerate(model.demand) for _ in range(count)]
    lots = -(-len(pieces) // PIECES_A_LOT)
    left = list(model.limits)
    handed_on: list[int] = []
    fillings: list[Filling] = []
    for number in range(lots):
        is_last = number == lots - 1 or is_over()
        share = (
            [i for later in range(number, lots) for i in pieces[later::lots]]
            if is_last
            else pieces[number::lots]
        )
        bars = _solve_lot(model, sorted(share + handed_on), tuple(left), solve)
        bars.sort(key=lambda bar: model.charges[bar.stock] / model.size_of(bar.lengths))
        keep = len(bars) - (0 if is_last else len(bars) // SHARE_HANDED_ON)
        handed_on = [i for bar in bars[keep:] for i in bar.lengths]
        fillings += bars[:keep]
        for bar in bars[:keep]:
            limit = left[bar.stock]
            if limit is not None:
                left[bar.stock] = limit - 1
        if is_last:
            break
    return fillings


def _solve_lot(
    model: CutModel,
    lot: list[int],
    limits: tuple[int | None, ...],
    solve: Callable[[CutModel], list[Filling]],
) -> list[Filling]:
    """The bars of a lot, one by one; the model solved knows only the lengths in it."""
    counts = Counter(lot)
    kinds = sorted(counts)
    part = CutModel(
        lengths=tuple(model.lengths[i] for i in kinds),
        demand=tuple(counts[i] for i in kinds),
        rooms=model.rooms,
        charges=model.charges,
        limits=limits,
    )
    return [
        Filling(filling.stock, tuple(kinds[i] for i in filling.lengths))
        for filling in solve(part)
        for _ in range(filling.repeat)
    ]
