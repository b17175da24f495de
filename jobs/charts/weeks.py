"""How are planned, earned and actual drawn over weeks?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from jobs.charts.scale import Axis, axis_for

WIDTH, HEIGHT = 480, 230
"""Little wider than a phone, so that the words on it can be read there."""
LEFT, RIGHT, TOP, BOTTOM = 62, 80, 14, 34
MOST_DATES = 4
LINE_GAP = 19


@dataclass(frozen=True)
class Week:
    """Figures from the start of the job to the end of a week; None where the week is still to come."""

    ends: date
    planned: Decimal
    earned: Decimal | None
    actual: Decimal | None


@dataclass(frozen=True)
class Line:
    """One line: its name, how it is drawn, its points, and where its name stands."""

    name: str
    style: str
    points: str
    x: float
    y: float
    label_y: float


@dataclass(frozen=True)
class Mark:
    """A figure or a date beside an axis."""

    at: float
    value: Decimal | date


@dataclass(frozen=True)
class WeekChart:
    """All that the template draws, in units of its own box."""

    lines: Sequence[Line]
    levels: Sequence[Mark]
    dates: Sequence[Mark]
    today: float | None
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = WIDTH - RIGHT
    foot: int = HEIGHT - BOTTOM


def week_chart(weeks: Sequence[Week], *, today: date) -> WeekChart | None:
    """The chart, or None where there are not two weeks with anything in them."""
    largest = max((figure for week in weeks for figure in _figures(week)), default=Decimal(0))
    if len(weeks) < 2 or largest <= 0:
        return None
    axis = axis_for(largest, HEIGHT - TOP - BOTTOM)
    across = [LEFT + (WIDTH - LEFT - RIGHT) * place / (len(weeks) - 1) for place in range(len(weeks))]
    series: dict[str, list[Decimal | None]] = {
        "planned": [week.planned for week in weeks],
        "earned": [week.earned for week in weeks],
        "actual": [week.actual for week in weeks],
    }
    lines = [_line(name, values, across, axis) for name, values in series.items()]
    return WeekChart(
        lines=_apart([line for line in lines if line]),
        levels=[Mark(_y(axis, tick), tick) for tick in axis.ticks],
        dates=_dates(weeks, across),
        today=next((x for x, week in zip(across, weeks, strict=True) if week.ends >= today), None),
    )


def _figures(week: Week) -> list[Decimal]:
    return [figure for figure in (week.planned, week.earned, week.actual) if figure is not None]


def _y(axis: Axis, value: Decimal) -> float:
    return round(HEIGHT - BOTTOM - axis.at(value), 1)


def _line(name: str, values: Sequence[Decimal | None], across: Sequence[float], axis: Axis) -> Line | None:
    points = [
        (round(x, 1), _y(axis, value)) for x, value in zip(across, values, strict=True) if value is not None
    ]
    if not points:
        return None
    x, y = points[-1]
    return Line(name, name, " ".join(f"{px},{py}" for px, py in points), x, y, y)


def _apart(lines: Sequence[Line]) -> list[Line]:
    """Names that end close together are moved apart, and none below the foot, where the dates stand."""
    ordered = sorted(lines, key=lambda line: line.y)
    places: list[float] = []
    for line in ordered:
        places.append(max(line.y, places[-1] + LINE_GAP) if places else line.y)
    lowest: float = HEIGHT - BOTTOM
    for at in reversed(range(len(places))):
        places[at] = min(places[at], lowest)
        lowest = places[at] - LINE_GAP
    return [replace(line, label_y=place) for line, place in zip(ordered, places, strict=True)]


def _dates(weeks: Sequence[Week], across: Sequence[float]) -> list[Mark]:
    every = -(-len(weeks) // MOST_DATES)
    return [Mark(round(across[place], 1), weeks[place].ends) for place in range(0, len(weeks), every)]
