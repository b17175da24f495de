"""Which phase bears how many packs of what is wanted, ordered or still lacking?"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from jobs.money import ZERO


def spread(packs: Decimal, weights: Mapping[int, Decimal]) -> dict[int, Decimal]:
    """So many packs by phase, in the proportion of the weights; nothing where they weigh nothing.

    >>> spread(Decimal(10), {1: Decimal(1), 2: Decimal(4)})
    {1: Decimal('2'), 2: Decimal('8')}
    """
    whole = sum(weights.values(), ZERO)
    return {phase: packs * weight / whole for phase, weight in weights.items() if whole and weight}


def together(*parts: Mapping[int, Decimal]) -> dict[int, Decimal]:
    """What each phase bears of all the parts.

    >>> together({1: Decimal(2)}, {1: Decimal(1), 2: Decimal(3)})
    {1: Decimal('3'), 2: Decimal('3')}
    """
    phases = dict.fromkeys(phase for part in parts for phase in part)
    return {phase: sum((part.get(phase, ZERO) for part in parts), ZERO) for phase in phases}


def lacking(needed: Mapping[int, Decimal], there: Mapping[int, Decimal]) -> dict[int, Decimal]:
    """What each phase needs besides what is there for it; what is needed, where nobody lacks anything.

    >>> lacking({1: Decimal(2), 2: Decimal(8)}, {1: Decimal(3)})
    {2: Decimal('8')}
    """
    short = {phase: need - there.get(phase, ZERO) for phase, need in needed.items()}
    return {phase: packs for phase, packs in short.items() if packs > 0} or dict(needed)
