"""A plan at once: pieces longest first into the best of the open bars, or the fullest bar first."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Iterator, Sequence

from .cut_model import CutModel, Filling

LARGEST_BITSET = 2_000_000


def quick_fillings(model: CutModel, is_over: Callable[[], bool]) -> Iterator[list[Filling]]:
    """Complete plans, the quickest to make first; those that take long only while there is time."""
    for stock in model.stock_order:
        if model.limits[stock] is None and model.rooms[stock] >= model.lengths[0]:
            yield shrink(model, best_fit_decreasing(model, stock))
    if not is_over():
        yield shrink(model, bar_by_bar(model, model.demand, greedy_fill, is_over))
    if not is_over() and model.largest_room <= LARGEST_BITSET:
        yield shrink(model, bar_by_bar(model, model.demand, fullest_fill, is_over))


def best_fit_decreasing(model: CutModel, main: int) -> list[Filling]:
    """Each piece, longest first, into the open bar it fills best; new bars from offcuts, then from `main`."""
    left = list(model.limits)
    room_left: list[tuple[int, int]] = []
    bars: list[tuple[int, list[int]]] = []
    for i, length in enumerate(model.lengths):
        for _ in range(model.demand[i]):
            at = bisect_left(room_left, (length, -1))
            if at < len(room_left):
                room, bar = room_left.pop(at)
            else:
                stock = _next_bar(model, left, length, main)
                room, bar = model.rooms[stock], len(bars)
                bars.append((stock, []))
            bars[bar][1].append(i)
            insort(room_left, (room - length, bar))
    return [Filling(stock, tuple(lengths)) for stock, lengths in bars]


def _next_bar(model: CutModel, left: list[int | None], length: int, main: int) -> int:
    """The shortest stock that takes this length and costs less for its room than `main`; else `main`."""
    best = main
    for stock in model.stock_order:
        count = left[stock]
        cheap = model.charges[stock] * model.rooms[main] < model.charges[main] * model.rooms[stock]
        if count and cheap and model.rooms[stock] >= length:
            best = stock
    if left[best] is not None:
        left[best] -= 1  # type: ignore[operator]  # mypy does not narrow an indexed item
    return best


Fill = Callable[[CutModel, Sequence[int], int], list[int]]


def bar_by_bar(
    model: CutModel, demand: Sequence[int], fill: Fill, is_over: Callable[[], bool]
) -> list[Filling]:
    """Finish one bar after the other, each time of the stock that costs least for the length cut from it."""
    demand, left = list(demand), list(model.limits)
    fillings: list[Filling] = []
    while any(demand):
        chosen: tuple[float, int, int, list[int]] | None = None
        for stock in model.stock_order:
            if left[stock] == 0:
                continue
            lengths = (greedy_fill if is_over() else fill)(model, demand, model.rooms[stock])
            size = model.size_of(lengths)
            rank = (model.charges[stock] / size, model.rooms[stock] - size) if size else None
            if rank and (chosen is None or rank < chosen[:2]):
                chosen = (*rank, stock, lengths)
        if chosen is None:
            raise RuntimeError("pieces are left that no stock takes")
        fillings.append(_take(chosen[2], chosen[3], demand, left))
    return fillings


def _take(stock: int, lengths: list[int], demand: list[int], left: list[int | None]) -> Filling:
    """Cut this bar as often as pieces and stock allow, so that many alike cost no more time than one."""
    counts = {i: lengths.count(i) for i in set(lengths)}
    times = min(demand[i] // count for i, count in counts.items())
    limit = left[stock]
    if limit is not None:
        times = min(times, limit)
        left[stock] = limit - times
    for i, count in counts.items():
        demand[i] -= count * times
    return Filling(stock, tuple(lengths), times)


def greedy_fill(model: CutModel, demand: Sequence[int], room: int) -> list[int]:
    """The longest pieces that still fit, one after the other."""
    lengths: list[int] = []
    for i, length in enumerate(model.lengths):
        if length <= room and demand[i]:
            count = min(demand[i], room // length)
            lengths += [i] * count
            room -= count * length
    return lengths


def fullest_fill(model: CutModel, demand: Sequence[int], room: int) -> list[int]:
    """The longest piece that fits, and beside it the set that leaves least of the room."""
    first = next((i for i, n in enumerate(demand) if n and model.lengths[i] <= room), None)
    if first is None:
        return []
    others = [n - (i == first) for i, n in enumerate(demand)]
    return sorted([first, *closest_fill(model.lengths, others, room - model.lengths[first])])


def closest_fill(sizes: Sequence[int], demand: Sequence[int], room: int) -> list[int]:
    """The pieces that leave least of the room; of equals the longer pieces.

    The reachable sums are kept as bits of one integer a step, which makes a step a shift.
    """
    mask = (1 << (room + 1)) - 1
    reach, steps = 1, []
    for i in reversed(range(len(demand))):
        count = min(demand[i], room // sizes[i])
        batch = 1
        while count > 0:
            take = min(batch, count)
            steps.append((i, take, reach))
            reach |= (reach << (take * sizes[i])) & mask
            count, batch = count - take, batch * 2
    target = reach.bit_length() - 1
    chosen: list[int] = []
    for i, take, before in reversed(steps):
        size = take * sizes[i]
        if size <= target and (before >> (target - size)) & 1:
            chosen += [i] * take
            target -= size
    return sorted(chosen)


def shrink(model: CutModel, fillings: list[Filling]) -> list[Filling]:
    """Each filling on the cheapest stock there is that takes it: the fullest choose first."""
    left = list(model.limits)
    bars = [f for f in fillings for _ in range(f.repeat)]
    by_charge = sorted(model.stock_order, key=lambda s: (model.charges[s], -model.rooms[s]))
    done = []
    for filling in sorted(bars, key=lambda f: -model.size_of(f.lengths)):
        size = model.size_of(filling.lengths)
        fit = (s for s in by_charge if model.rooms[s] >= size and left[s] != 0)
        stock = next(fit, None)
        if stock is None:
            return fillings
        count = left[stock]
        if count is not None:
            left[stock] = count - 1
        done.append(Filling(stock, filling.lengths))
    return done if model.cost_of(done) <= model.cost_of(fillings) else fillings
