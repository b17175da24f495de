"""How did the margin get from what was quoted to what it became? A bar a step, on one axis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.charts.bars import Stretch
from jobs.progress import Step

LENGTH = 240
LEAST = 1.0


@dataclass(frozen=True)
class Fall:
    """One row: the step, its bar, how it is drawn (`whole`, `gain`, `loss`, `none`), and where nought is."""

    step: Step
    bar: Stretch
    style: str
    nought: float


def waterfall(steps: Sequence[Step]) -> list[Fall]:
    """The bars: the ends from nought, each step between from where the last one left off."""
    levels = [step.level for step in steps]
    low, high = min([Decimal(0), *levels]), max([Decimal(0), *levels])
    span = high - low
    if span <= 0:
        return []

    def at(value: Decimal) -> float:
        return round(float((value - low) / span) * LENGTH, 1)

    falls, before = [], Decimal(0)
    for place, step in enumerate(steps):
        is_whole = place in (0, len(steps) - 1)
        start = Decimal(0) if is_whole else before
        left, right = sorted((at(start), at(step.level)))
        style = "whole" if is_whole else _style(step.amount)
        falls.append(Fall(step, Stretch(left, max(round(right - left, 1), LEAST)), style, at(Decimal(0))))
        before = step.level
    return falls


def _style(amount: Decimal) -> str:
    return "loss" if amount < 0 else "gain" if amount > 0 else "none"
