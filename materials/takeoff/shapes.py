"""What shapes can be measured, and by which rule is the area of each found?"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from materials.takeoff.errors import MeasureAgain

ARC_CHORDS = 64
"""An arc is drawn and cut as so many straight chords; on a 2.4 m arc each lies within 0.2 mm of the curve."""


class AreaRule(StrEnum):
    """How an offset table becomes an area."""

    TRAPEZOIDAL = "trapezoidal"
    SIMPSON = "simpson"


@dataclass(frozen=True)
class Point:
    """A corner: so far across and so far up from the bottom left."""

    across_mm10: int
    up_mm10: int


@dataclass(frozen=True)
class Station:
    """A place along the base line, and how wide the shape is there, square off the line."""

    along_mm10: int
    width_mm10: int


@dataclass(frozen=True)
class Rectangle:
    """A plain rectangle."""

    width_mm10: int
    height_mm10: int


@dataclass(frozen=True)
class Polygon:
    """Straight sides from corner to corner, in order round the shape."""

    corners: tuple[Point, ...]


@dataclass(frozen=True)
class ArcTop:
    """An arc over a chord, standing on straight sides (0 high for the arc alone)."""

    chord_mm10: int
    rise_mm10: int
    sides_mm10: int = 0


@dataclass(frozen=True)
class OffsetTable:
    """A curved edge measured off a straight base line, as widths at stations along it."""

    stations: tuple[Station, ...]
    area_rule: AreaRule = AreaRule.TRAPEZOIDAL


Shape = Rectangle | Polygon | ArcTop | OffsetTable


@dataclass(frozen=True)
class Arc:
    """The circle through a chord and its rise, in the unit of the chord.

    Source: plane geometry, R = c²/8s + s/2.
    """

    radius: float
    length: float
    segment_area: float


def arc_of(chord: float, rise: float) -> Arc:
    """Radius, arc length and segment area from chord and rise.

    >>> arc = arc_of(2.4, 0.3)
    >>> round(arc.radius, 3), round(arc.length, 4), round(arc.segment_area, 5)
    (2.55, 2.4988, 0.48595)
    """
    if chord <= 0:
        raise MeasureAgain("The chord must be more than nothing. Measure straight across the ends.", "chord")
    if rise <= 0:
        raise MeasureAgain("With no rise the edge is straight and has no radius. Use a rectangle.", "rise")
    if rise > chord:
        raise MeasureAgain(
            "The rise is more than the chord. Measure the chord again, straight across the ends, "
            "and the rise from its middle.",
            "rise",
        )
    radius = chord * chord / (8 * rise) + rise / 2
    angle = 4 * math.atan2(2 * rise, chord)
    return Arc(radius, radius * angle, radius * radius * (angle - math.sin(angle)) / 2)


def corners_of(shape: Shape) -> tuple[tuple[int, int], ...]:
    """The corners of the shape as drawn and cut, in order; raises `MeasureAgain` for no such shape."""
    match shape:
        case Rectangle():
            return _rectangle_corners(shape)
        case Polygon():
            return _polygon_corners(shape)
        case ArcTop():
            return _arc_corners(shape)
        case OffsetTable():
            return _table_corners(shape)


def _rectangle_corners(shape: Rectangle) -> tuple[tuple[int, int], ...]:
    wide, high = shape.width_mm10, shape.height_mm10
    if wide <= 0:
        raise MeasureAgain("The width must be more than nothing. Measure it again.", "width")
    if high <= 0:
        raise MeasureAgain("The height must be more than nothing. Measure it again.", "height")
    return (0, 0), (wide, 0), (wide, high), (0, high)


def _polygon_corners(shape: Polygon) -> tuple[tuple[int, int], ...]:
    spots = [(corner.across_mm10, corner.up_mm10) for corner in shape.corners]
    if len(spots) > 1 and spots[0] == spots[-1]:
        spots.pop()
    if len(spots) < 3:
        raise MeasureAgain("An outline needs at least three corners. Measure the missing ones.", "corners")
    for number, (one, other) in enumerate(itertools.pairwise(spots), start=1):
        if one == other:
            raise MeasureAgain(f"Corners {number} and {number + 1} are the same. Leave one out.", "corners")
    left, bottom = min(x for x, _ in spots), min(y for _, y in spots)
    return tuple((x - left, y - bottom) for x, y in spots)


def _arc_corners(shape: ArcTop) -> tuple[tuple[int, int], ...]:
    chord, rise, sides = shape.chord_mm10, shape.rise_mm10, shape.sides_mm10
    radius = arc_of(chord, rise).radius
    half = 2 * math.atan2(2 * rise, chord)
    middle_y = sides + rise - radius
    turns = [half - 2 * half * n / ARC_CHORDS for n in range(ARC_CHORDS + 1)]
    curve = [(round(chord / 2 + radius * math.sin(t)), round(middle_y + radius * math.cos(t))) for t in turns]
    base = [(0, 0), (chord, 0)] if sides else []
    spots = base + curve if sides else curve
    return _without_repeats(spots)


def _without_repeats(spots: Sequence[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    kept = [spot for n, spot in enumerate(spots) if n == 0 or spot != spots[n - 1]]
    return tuple(kept[:-1] if kept[-1] == kept[0] else kept)


def _table_corners(shape: OffsetTable) -> tuple[tuple[int, int], ...]:
    stations = check_stations(shape.stations)
    first = stations[0].along_mm10
    base = [(0, 0), (stations[-1].along_mm10 - first, 0)]
    edge = [(station.along_mm10 - first, station.width_mm10) for station in reversed(stations)]
    return _without_repeats(base + edge)


def check_stations(stations: tuple[Station, ...]) -> tuple[Station, ...]:
    """The stations as given, once they run in order and hold some area."""
    if len(stations) < 2:
        raise MeasureAgain("An offset table needs at least two stations. Measure another width.", "stations")
    for number, (one, other) in enumerate(itertools.pairwise(stations), start=1):
        if other.along_mm10 <= one.along_mm10:
            raise MeasureAgain(
                f"Station {number + 1} does not lie beyond station {number}. "
                "Measure both again from the same end of the base line.",
                "stations",
            )
    if all(station.width_mm10 == 0 for station in stations):
        raise MeasureAgain("Every width is nothing. Measure the widths off the base line again.", "stations")
    if any(station.width_mm10 == 0 for station in stations[1:-1]):
        raise MeasureAgain(
            "A width of nothing between the ends pinches the shape in two. Measure it again, or take off "
            "the two parts one by one.",
            "stations",
        )
    return stations


def polygon_area(spots: Sequence[tuple[int, int]]) -> Decimal:
    """Area by the corner (shoelace) rule in tenths of a millimetre squared, exactly."""
    pairs = zip(spots, [*spots[1:], spots[0]], strict=True)
    return Decimal(abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs))) / 2


def trapezoidal(along: Sequence[Fraction | int], widths: Sequence[Fraction | int]) -> Fraction:
    """Area by trapezoids, whatever the spacing: each strip is its length times its mean width."""
    strips = zip(along, along[1:], widths, widths[1:], strict=False)
    return sum((Fraction(b - a) * (p + q) / 2 for a, b, p, q in strips), Fraction(0))


def simpson(along: Sequence[Fraction | int], widths: Sequence[Fraction | int]) -> Fraction:
    """Area by Simpson's one-third rule over equal steps; of an odd number of strips the last is a trapezoid.

    Raises `MeasureAgain` where the stations are not equally spaced. Source: the rule as in surveying texts,
    A = h/3 (first + last + 4 × even + 2 × other odd).
    """
    gaps = {b - a for a, b in itertools.pairwise(along)}
    if len(gaps) > 1:
        raise MeasureAgain(
            "Simpson's rule needs stations at equal steps. Use the trapezoidal rule.", "area_rule"
        )
    last = len(along) - 1
    curved = last - last % 2
    step = Fraction(next(iter(gaps), 0))
    ends = widths[0] + widths[curved]
    total = (
        step / 3 * (ends + 4 * sum(widths[1:curved:2]) + 2 * sum(widths[2:curved:2]))
        if curved
        else Fraction(0)
    )
    return total + trapezoidal(along[curved:], widths[curved:])
