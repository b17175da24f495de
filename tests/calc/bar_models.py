"""Small cutting models for the tests, and their best plans by trying all."""

from functools import cache
from itertools import combinations

from hypothesis import strategies as st

from materials.cutting.cut_model import CutModel


def model(lengths, demand, stock):
    """A model from lengths, how many of each, and stock as (room, charge, limit)."""
    rooms, charges, limits = zip(*stock, strict=True)
    return CutModel(tuple(lengths), tuple(demand), rooms, charges, limits)


def size(model, filling):
    """Room that the lengths of a filling take."""
    return sum(model.lengths[i] for i in filling.lengths)


def is_whole(model, fillings):
    """Every piece is cut once, every bar is long enough, no stock is overdrawn."""
    made = [0] * len(model.lengths)
    taken = [0] * len(model.rooms)
    for filling in fillings:
        taken[filling.stock] += filling.repeat
        for i in filling.lengths:
            made[i] += filling.repeat
        if size(model, filling) > model.rooms[filling.stock] or not filling.lengths:
            return False
    within = all(limit is None or n <= limit for n, limit in zip(taken, model.limits, strict=True))
    return tuple(made) == model.demand and within


def least_cost_by_trying_all(model):
    """The least (cost, bars) of any plan: all bars for the first piece left, and all its mates in it."""
    pieces = tuple(i for i, n in enumerate(model.demand) for _ in range(n))
    nothing = (float("inf"), 0)

    @cache
    def least(left, limits):
        if not left:
            return (0, 0)
        best, rest = nothing, left[1:]
        for count in range(len(rest) + 1):
            for mates in combinations(range(len(rest)), count):
                length = model.lengths[left[0]] + sum(model.lengths[rest[k]] for k in mates)
                later = tuple(piece for k, piece in enumerate(rest) if k not in mates)
                for stock, room in enumerate(model.rooms):
                    if length > room or limits[stock] == 0:
                        continue
                    fewer = tuple(n - 1 if s == stock and n is not None else n for s, n in enumerate(limits))
                    cost, bars = least(later, fewer)
                    best = min(best, (cost + model.charges[stock], bars + 1))
        return best

    return least(pieces, model.limits)


@st.composite
def small_models(draw, most_pieces=7):
    """A few pieces and some stock with prices and limits; the first stock takes all and never runs out."""
    lengths = sorted(draw(st.sets(st.integers(1, 60), min_size=1, max_size=4)), reverse=True)
    demand = []
    for _ in lengths:
        demand.append(draw(st.integers(1, max(1, most_pieces - sum(demand) - len(lengths) + len(demand)))))
    endless = (max(lengths) + draw(st.integers(0, 60)), draw(st.integers(1, 30)), None)
    more = draw(
        st.lists(
            st.tuples(st.integers(1, 120), st.integers(0, 30), st.none() | st.integers(0, 2)), max_size=3
        )
    )
    return model(lengths, demand, [endless, *more])
