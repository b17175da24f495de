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


class Supply:
    """Pieces still to be cut, longest first, with those used up dropped from time to time."""

    def __init__(self, model: CutModel, demand: Sequence[int]) -> None:
        self.kinds = [i for i, count in enumerate(demand) if count]
        self.sizes = [model.lengths[i] for i in self.kinds]
        self.counts = [demand[i] for i in self.kinds]
        self.used_up = 0

    def is_empty(self) -> bool:
        """True once every piece is cut."""
        return self.used_up == len(self.kinds)

    def remove(self, at: int, count: int) -> None:
        """Cut so many of the kind at this place."""
        self.counts[at] -= count
        self.used_up += not self.counts[at]

    def drop_used_up(self) -> None:
        """Forget the kinds of which none is left, once they are the greater part."""
        if 2 * self.used_up > len(self.kinds):
            there = [at for at, count in enumerate(self.counts) if count]
            self.kinds = [self.kinds[at] for at in there]
            self.sizes = [self.sizes[at] for at in there]
            self.counts = [self.counts[at] for at in there]
            self.used_up = 0


Fill = Callable[[Supply, int], list[int]]


def bar_by_bar(
    model: CutModel, demand: Sequence[int], fill: Fill, is_over: Callable[[], bool]
) -> list[Filling]:
    """Finish one bar after the other, each time of the stock that costs least for the length cut from it.

    Once the time is over the rest is filled the quick way.
    """
    supply, left = Supply(model, demand), list(model.limits)
    fillings: list[Filling] = []
    while not supply.is_empty():
        chosen: tuple[float, int, int, list[int]] | None = None
        for stock in model.stock_order:
            if left[stock] == 0:
                continue
            places = (greedy_fill if is_over() else fill)(supply, model.rooms[stock])
            size = sum(supply.sizes[at] for at in places)
            rank = (model.charges[stock] / size, model.rooms[stock] - size) if size else None
            if rank and (chosen is None or rank < chosen[:2]):
                chosen = (*rank, stock, places)
        if chosen is None:
            raise RuntimeError("pieces are left that no stock takes")
        fillings.append(_take(chosen[2], chosen[3], supply, left))
        supply.drop_used_up()
    return fillings


def _take(stock: int, places: list[int], supply: Supply, left: list[int | None]) -> Filling:
    """Cut this bar as often as pieces and stock allow, so that many alike cost no more time than one."""
    counts = {at: places.count(at) for at in set(places)}
    times = min(supply.counts[at] // count for at, count in counts.items())
    limit = left[stock]
    if limit is not None:
        times = min(times, limit)
        left[stock] = limit - times
    filling = Filling(stock, tuple(supply.kinds[at] for at in places), times)
    for at, count in counts.items():
        supply.remove(at, count * times)
    return filling


def greedy_fill(supply: Supply, room: int) -> list[int]:
    """The longest pieces that still fit, one after the other; as places in the supply."""
    places: list[int] = []
    at = _first_within(supply, room, 0)
    while at < len(supply.sizes):
        count = min(supply.counts[at], room // supply.sizes[at])
        places += [at] * count
        room -= count * supply.sizes[at]
        at = _first_within(supply, room, at + 1)
    return places


def fullest_fill(supply: Supply, room: int) -> list[int]:
    """The longest piece that fits, and beside it the pieces that leave least of the room."""
    first = _first_within(supply, room, 0)
    if first == len(supply.sizes):
        return []
    others = list(supply.counts)
    others[first] -= 1
    return sorted([first, *closest_fill(supply.sizes, others, room - supply.sizes[first])])


def _first_within(supply: Supply, room: int, start: int) -> int:
    """Where the first kind stands, from `start` on, that is there and no longer than the room."""
    at = bisect_left(supply.sizes, -room, lo=start, key=lambda size: -size)
    while at < len(supply.counts) and not supply.counts[at]:
        at += 1
    return at


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
