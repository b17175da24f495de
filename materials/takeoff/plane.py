"""Regions of the plane: what is left of an outline when openings and cuts are taken from it?

A thin, typed front for shapely (GEOS), in tenths of a millimetre. It is slow to import, so each function
that needs it fetches it, and pages that draw no outline never load it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

Spot = tuple[int, int]
Region = Any
"""A shapely geometry; only this module looks inside."""

SPECK_MM10 = 5
"""Scraps thinner than half a millimetre are the noise of arithmetic, not pieces."""


@dataclass(frozen=True)
class Box:
    """The upright rectangle round something."""

    left: int
    bottom: int
    right: int
    top: int

    @property
    def width(self) -> int:
        """Across."""
        return self.right - self.left

    @property
    def height(self) -> int:
        """Up."""
        return self.top - self.bottom


@cache
def _shapely() -> Any:
    import shapely  # slow import (0.1 to 0.3 s with numpy)

    return shapely


def polygon(spots: Sequence[Spot]) -> Region:
    """A region with these corners, in order."""
    return _shapely().Polygon(spots)


def crossing_sides(spots: Sequence[Spot]) -> tuple[int, int] | None:
    """The numbers (from 1) of the first two sides that meet where they should not; None if none do."""
    shapely = _shapely()
    if polygon(spots).is_valid:
        return None
    count = len(spots)
    sides = [shapely.LineString([spots[n], spots[(n + 1) % count]]) for n in range(count)]
    for one in range(count):
        for other in range(one + 2, count):
            if (other + 1) % count != one and sides[one].intersects(sides[other]):
                return one + 1, other + 1
    return 1, count


def box(left: int, bottom: int, right: int, top: int) -> Region:
    """An upright rectangle."""
    return _shapely().box(left, bottom, right, top)


def disc(left: int, bottom: int, size: int, corners: int = 96) -> Region:
    """A round hole in its bounding square, drawn outside the true circle so that nothing is short."""
    radius = size / 2 / math.cos(math.pi / corners)
    middle_x, middle_y = left + size / 2, bottom + size / 2
    turns = [2 * math.pi * n / corners for n in range(corners)]
    return _shapely().Polygon(
        [(middle_x + radius * math.cos(t), middle_y + radius * math.sin(t)) for t in turns]
    )


def less(region: Region, holes: Iterable[Region]) -> Region:
    """The region without the holes."""
    shapely = _shapely()
    return shapely.difference(region, shapely.union_all(list(holes)))


def together(regions: Sequence[Region]) -> Region:
    """All the regions as one, whether they touch or not."""
    return regions[0] if len(regions) == 1 else _shapely().union_all(list(regions))


def common(one: Region, other: Region) -> Region:
    """What both regions hold."""
    return _shapely().intersection(one, other)


def strips(region: Region, lines: Sequence[int], left: int, right: int) -> list[list[Region]]:
    """The region between each two neighbouring level lines, in connected parts from left to right."""
    shapely = _shapely()
    boxes = [shapely.box(left, low, right, high) for low, high in itertools.pairwise(lines)]
    return [parts(cut) for cut in shapely.intersection(region, boxes)]


def holds(region: Region, inner: Region) -> bool:
    """True when the inner region lies inside, edges included, to within a scrap."""
    return bool(region.buffer(SPECK_MM10).covers(inner))


def overlap(one: Region, other: Region) -> bool:
    """True when the two share more than an edge."""
    return bool(one.intersection(other).area > SPECK_MM10**2)


def meet(one: Region, other: Region) -> bool:
    """True when two that lie beside each other share more than a scrap of edge."""
    return bool(one.intersection(other).length > SPECK_MM10)


def parts(region: Region) -> list[Region]:
    """The separate pieces of a region, left to right, scraps left out."""
    found = [part for part in getattr(region, "geoms", [region]) if part.geom_type == "Polygon"]
    kept = [part for part in found if _is_piece(part)]
    return sorted(kept, key=lambda part: (part.bounds[0], part.bounds[1]))


def _is_piece(part: Region) -> bool:
    if part.is_empty:
        return False
    left, bottom, right, top = part.bounds
    return bool(min(right - left, top - bottom) >= SPECK_MM10)


def bounds(region: Region) -> Box:
    """The box round a region; a hair over a whole tenth is the noise of arithmetic and is dropped."""
    left, bottom, right, top = region.bounds
    hair = 0.01
    return Box(
        math.floor(left + hair), math.floor(bottom + hair), math.ceil(right - hair), math.ceil(top - hair)
    )


def area(region: Region) -> float:
    """Area in tenths of a millimetre squared."""
    return float(region.area)


def length(region: Region) -> float:
    """Length of all edges."""
    return float(region.length)


def centre(region: Region) -> Spot:
    """The middle of area."""
    middle = region.centroid
    return round(middle.x), round(middle.y)


def turned(region: Region) -> Region:
    """Across and up changed places, so that upright boards are laid as level ones."""
    return _shapely().transform(region, lambda spots: spots[:, ::-1])


def mirrored(region: Region, width: int) -> Region:
    """The other hand: left is right, within the same width."""

    def flip(spots: Any) -> Any:
        return spots * [-1, 1] + [width, 0]

    return _shapely().transform(region, flip)


def spans(region: Region, across: int) -> list[tuple[int, int]]:
    """Where an upright line at that place runs inside the region: bottom and top of each stretch."""
    low, high = region.bounds[1] - 1, region.bounds[3] + 1
    line = _shapely().LineString([(across, low), (across, high)])
    cut = region.intersection(line)
    found = [
        part.bounds for part in getattr(cut, "geoms", [cut]) if part.geom_type == "LineString" and part.length
    ]
    return sorted((math.floor(b[1] + 0.01), math.ceil(b[3] - 0.01)) for b in found)


def rings(region: Region) -> list[tuple[Spot, ...]]:
    """The edges of a region's parts as corners, outer edge first, then holes; for a drawing."""
    found: list[tuple[Spot, ...]] = []
    for part in getattr(region, "geoms", [region]):
        if part.geom_type == "Polygon" and not part.is_empty:
            edges = [part.exterior, *part.interiors]
            found += [tuple((round(x), round(y)) for x, y in edge.coords[:-1]) for edge in edges]
    return found
