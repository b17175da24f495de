"""What does a plan take, bars and sheets alike?"""

from __future__ import annotations

from dataclasses import dataclass

from .sheet_plan import SheetPlan
from .stored import Plan


@dataclass(frozen=True)
class Use:
    """Bars or sheets cut alike: which stock, which parts come from one, how many there are."""

    stock: int
    parts: tuple[int, ...]
    repeat: int


def uses_of(plan: Plan) -> tuple[Use, ...]:
    """The bars or sheets of a plan in its order."""
    if isinstance(plan, SheetPlan):
        return tuple(Use(s.stock, tuple(p.part for p in s.placements), s.repeat) for s in plan.sheets)
    return tuple(Use(bar.stock, bar.parts, bar.repeat) for bar in plan.bars)
