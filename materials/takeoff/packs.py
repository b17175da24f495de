"""Which packs or tins hold the amount, and how much is left over?"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from materials.takeoff.figures import plain
from materials.takeoff.result import Quantity, Step, Unit
from materials.takeoff.specs import MaterialSpec, PackSize

EACH = PackSize(Decimal(1))
MOST_STEPS = 50_000
"""Sizes that share so small a measure that it takes more are counted in coarser steps: packs still hold the
amount, and cost hardly more than the cheapest."""


def whole_packs(amount: Decimal, pack_size: Decimal) -> int:
    """Packs of one size that hold the amount, part of a pack being a pack.

    >>> whole_packs(Decimal("7.5"), Decimal(5)), whole_packs(Decimal(200), Decimal(200))
    (2, 1)
    """
    return int((amount / pack_size).to_integral_value(ROUND_CEILING))


def choose_packs(amount: Decimal, sizes: tuple[PackSize, ...]) -> tuple[tuple[PackSize, int], ...]:
    """Packs that hold the amount: the cheapest where all are priced, else least over, then fewest packs.

    A price that is the same is settled by what is over, then by the number of packs. The biggest stand first.

    >>> tins = PackSize(Decimal(1), Decimal("14.50")), PackSize(Decimal("2.5"), Decimal(37))
    >>> [(str(size.quantity), count) for size, count in choose_packs(Decimal(20), tins)]
    [('1', 20)]
    """
    if amount <= 0:
        return ()
    ordered = sorted(dict.fromkeys(sizes or (EACH,)), key=lambda size: -size.quantity)
    unit = _common_measure([Fraction(size.quantity) for size in ordered])
    priced = all(size.price is not None for size in ordered)
    packs = [_pack(size, unit, priced=priced) for size in ordered]
    need = math.ceil(Fraction(amount) / unit)
    best = min(packs, key=lambda pack: (pack.cost / pack.holds, -pack.holds))
    sure = max(0, need - _most_besides(packs, best)) // best.holds
    chosen = _fill(need - sure * best.holds, packs) + Counter({best.size: sure})
    return tuple((size, chosen[size]) for size in ordered if chosen[size])


@dataclass(frozen=True)
class _Pack:
    """A size, how much it holds in whole units, and what it counts for: its price, or what it holds."""

    size: PackSize
    holds: int
    cost: Decimal


def _pack(size: PackSize, unit: Fraction, *, priced: bool) -> _Pack:
    cost = size.price if priced and size.price is not None else size.quantity
    return _Pack(size, int(Fraction(size.quantity) / unit), cost)


def _common_measure(held: list[Fraction]) -> Fraction:
    """The largest unit of which every size is a whole number."""
    parts = math.lcm(*(each.denominator for each in held))
    return Fraction(math.gcd(*(int(each * parts) for each in held)), parts)


def _most_besides(packs: list[_Pack], best: _Pack) -> int:
    """The most units that packs other than the best value need hold; all before are packs of the best value.

    Of another size never so many are needed that packs of the best value hold the same: they cost no more.
    Nor of all others together as many as the best holds units: some of them would hold a whole number of it.
    """
    others = [pack.holds for pack in packs if pack is not best]
    each = sum(math.lcm(holds, best.holds) - holds for holds in others)
    together = (best.holds - 1) * max(others, default=0)
    return min(each, together, max(0, MOST_STEPS - best.holds))


def _fill(need: int, packs: list[_Pack]) -> Counter[PackSize]:
    """The best packs for so many units, found unit by unit (dynamic programme)."""
    step = max(1, -(-need // MOST_STEPS))
    usable = [(pack, pack.holds // step) for pack in packs if pack.holds >= step]
    ranks: list[tuple[Decimal, int, int]] = [(Decimal(0), 0, 0)]
    last: list[tuple[_Pack, int]] = []
    for units in range(1, -(-need // step) + 1):
        rank, at = min(
            (_with_one(ranks[max(0, units - holds)], pack), at) for at, (pack, holds) in enumerate(usable)
        )
        ranks.append(rank)
        last.append(usable[at])
    found: Counter[PackSize] = Counter()
    left = len(last)
    while left > 0:
        pack, holds = last[left - 1]
        found[pack.size] += 1
        left -= holds
    return found


def _with_one(rank: tuple[Decimal, int, int], pack: _Pack) -> tuple[Decimal, int, int]:
    cost, held, count = rank
    return cost + pack.cost, held + pack.holds, count + 1


def quantities(spec: MaterialSpec, amount: Decimal, unit: Unit) -> tuple[Quantity, ...]:
    """The amount as packs to buy, one line a size; the amounts of the lines add up to the whole."""
    found: list[Quantity] = []
    left = amount
    for size, count in choose_packs(amount, spec.packs):
        here = min(left, size.quantity * count)
        left -= here
        found.append(Quantity(spec.key, here, unit, count, size.quantity, spec.name))
    return tuple(found)


def pack_count(found: tuple[Quantity, ...]) -> int:
    """How many packs in all."""
    return sum(quantity.packs for quantity in found)


def pack_step(amount: Decimal, found: tuple[Quantity, ...], pack: str) -> Step:
    """The line of working that rounds up to whole packs."""
    held = sum((quantity.pack_size * quantity.packs for quantity in found), Decimal(0))
    packs = " + ".join(f"{quantity.packs} × {plain(quantity.pack_size)}" for quantity in found)
    sums = f"{plain(amount)} → {packs} = {plain(held)}, {plain(held - amount)} over"
    return Step(f"Whole {pack}s", sums, f"part of a {pack} is a {pack}")
