"""Which packs or tins hold the amount, and how much is left over?"""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal

from materials.takeoff.figures import plain
from materials.takeoff.result import Quantity, Step, Unit
from materials.takeoff.specs import MaterialSpec, PackSize

EACH = PackSize(Decimal(1))


def whole_packs(amount: Decimal, pack_size: Decimal) -> int:
    """Packs of one size that hold the amount, part of a pack being a pack.

    >>> whole_packs(Decimal("7.5"), Decimal(5)), whole_packs(Decimal(200), Decimal(200))
    (2, 1)
    """
    return int((amount / pack_size).to_integral_value(ROUND_CEILING))


def choose_packs(amount: Decimal, sizes: tuple[PackSize, ...]) -> tuple[tuple[PackSize, int], ...]:
    """Packs that hold the amount: the cheapest where all are priced, else least over, then fewest packs."""
    ordered = sorted(sizes or (EACH,), key=lambda size: -size.quantity)
    priced = all(size.price is not None for size in ordered)
    best = min(_choices(amount, ordered), key=lambda counts: _rank(amount, ordered, counts, priced=priced))
    return tuple((size, count) for size, count in zip(ordered, best, strict=True) if count)


def _choices(amount: Decimal, ordered: list[PackSize]) -> list[tuple[int, ...]]:
    """For each number of the biggest packs, the smaller ones fill up; the last size must finish it."""
    most = whole_packs(amount, ordered[0].quantity) if amount > 0 else 0
    if len(ordered) == 1:
        return [(most,)]
    found: list[tuple[int, ...]] = []
    for count in range(max(0, most - 3), most + 1):
        left = max(Decimal(0), amount - count * ordered[0].quantity)
        found += [(count, *rest) for rest in _choices(left, ordered[1:])]
    return found


def _rank(
    amount: Decimal, ordered: list[PackSize], counts: tuple[int, ...], *, priced: bool
) -> tuple[Decimal, ...]:
    held = sum((size.quantity * count for size, count in zip(ordered, counts, strict=True)), Decimal(0))
    price = sum(
        ((size.price or Decimal(0)) * count for size, count in zip(ordered, counts, strict=True)), Decimal(0)
    )
    return (price if priced else Decimal(0), held - amount, Decimal(sum(counts)))


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
