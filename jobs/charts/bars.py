"""How are agreed, spent and forecast hours drawn on one line?

A filled bar for what is spent, a dashed frame for what is still to come, an upright stroke for what was
agreed; what lies beyond the stroke has a frame of its own. It reads without colour.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.charts.scale import Axis


@dataclass(frozen=True)
class Stretch:
    """From where, how wide."""

    x: float
    width: float


@dataclass(frozen=True)
class PhaseBar:
    """The parts of one phase's bar; a part of no width is left out."""

    spent: Stretch | None
    forecast: Stretch | None
    beyond: Stretch | None
    agreed: float | None


def phase_bar(axis: Axis, *, agreed: Decimal, spent: Decimal, forecast: Decimal) -> PhaseBar:
    """The bar of a phase on the axis all phases share."""
    end = max(spent, forecast)
    limit = agreed if agreed > 0 else end
    return PhaseBar(
        spent=_stretch(axis, Decimal(0), spent),
        forecast=_stretch(axis, spent, min(end, max(limit, spent))),
        beyond=_stretch(axis, max(limit, Decimal(0)), end),
        agreed=axis.at(agreed) if agreed > 0 else None,
    )


def _stretch(axis: Axis, start: Decimal, end: Decimal) -> Stretch | None:
    left, right = axis.at(start), axis.at(end)
    return Stretch(left, round(right - left, 1)) if right > left else None
