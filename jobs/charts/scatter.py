"""How do actual hours lie against quoted ones, a mark a job? Above the slant it took longer than quoted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.charts.scale import axis_for
from jobs.charts.weeks import Mark

SIDE = 320
LEFT, TOP, RIGHT, BOTTOM = 66, 14, 20, 48


@dataclass(frozen=True)
class Pair:
    """One job: its name, what was quoted, what it took."""

    name: str
    quoted: Decimal
    actual: Decimal


@dataclass(frozen=True)
class Dot:
    """Where a job stands, and whether it took longer."""

    x: float
    y: float
    name: str
    is_over: bool


@dataclass(frozen=True)
class ScatterChart:
    """All that the template draws, in units of its own box."""

    dots: Sequence[Dot]
    across: Sequence[Mark]
    up: Sequence[Mark]
    left: int = LEFT
    right: int = LEFT + SIDE
    top: int = TOP
    foot: int = TOP + SIDE
    width: int = LEFT + SIDE + RIGHT
    height: int = TOP + SIDE + BOTTOM


def scatter_chart(pairs: Sequence[Pair]) -> ScatterChart | None:
    """The chart on one scale both ways, or None where there is nothing to draw."""
    largest = max((max(pair.quoted, pair.actual) for pair in pairs), default=Decimal(0))
    if largest <= 0:
        return None
    axis = axis_for(largest, SIDE)
    ticks = [(round(axis.at(tick), 1), tick) for tick in axis.ticks]
    return ScatterChart(
        dots=[
            Dot(
                LEFT + axis.at(pair.quoted),
                TOP + SIDE - axis.at(pair.actual),
                pair.name,
                pair.actual > pair.quoted,
            )
            for pair in pairs
        ],
        across=[Mark(LEFT + at, tick) for at, tick in ticks],
        up=[Mark(TOP + SIDE - at, tick) for at, tick in ticks],
    )
