"""What no plan can undercut: the length there is to cover, and which totals stock prices can add up to."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from .cut_model import CutModel
from .price_sums import PriceSums


def length_bound(model: CutModel) -> int:
    """The cost of the cheapest lengths of stock that hold all parts, were parts liquid.

    >>> length_bound(CutModel(lengths=(60,), demand=(5,), rooms=(100,), charges=(7,), limits=(None,)))
    21
    """
    open_length = sum(length * count for length, count in zip(model.lengths, model.demand, strict=True))
    cost = Fraction(0)
    for stock in sorted(model.stock_order, key=lambda s: Fraction(model.charges[s], model.rooms[s])):
        limit, room = model.limits[stock], model.rooms[stock]
        covered = open_length if limit is None else min(open_length, limit * room)
        cost += Fraction(model.charges[stock] * covered, room)
        open_length -= covered
    return next_total(model, cost)


def next_total(model: CutModel, cost: Fraction) -> int:
    """The least that stock can cost together and that is not below this cost."""
    charges = [model.charges[stock] for stock in model.stock_order]
    limits = [model.limits[stock] for stock in model.stock_order]
    pieces = sum(model.demand)
    prices = [
        (charge, pieces if limit is None else limit) for charge, limit in zip(charges, limits, strict=True)
    ]
    least = ceil(cost)
    return PriceSums(prices, least + max(charges, default=0)).at_least(least)
