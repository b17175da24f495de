"""Will this thickness take this radius? If not: how thin must a layer be, or how close the saw kerfs?

Source: APA, minimum bending radii for dry, unsanded Plyform panels (Douglas-fir plywood), in feet. "Across"
means that the sheet curves across its face grain. Between sizes the next thicker row is used.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from materials.takeoff.errors import MeasureAgain

FOOT_MM10 = 3048


class Curve(StrEnum):
    """Which way the sheet is bent: across its face grain, or along it."""

    ACROSS = "across"
    ALONG = "along"


@dataclass(frozen=True)
class Row:
    """One row of the published table: thickness, and the least radius each way in feet."""

    thickness_mm10: Decimal
    across_ft: int
    along_ft: int


TABLE = (
    Row(Decimal("63.5"), 2, 5),
    Row(Decimal("79.375"), 2, 6),
    Row(Decimal("95.25"), 3, 8),
    Row(Decimal("127"), 6, 12),
    Row(Decimal("158.75"), 8, 16),
    Row(Decimal("190.5"), 12, 20),
)

ROUNDING_MM10 = Decimal("0.5")
"""A sheet sold as 12.7 mm is the half-inch row, though a half inch is exactly that and 3/8 is 9.525."""


@dataclass(frozen=True)
class Bend:
    """The answer: the least radius of the table for that thickness, or None where it has no row for it."""

    thickness_mm10: int
    radius_mm10: int
    curve: Curve
    least_radius_mm10: int | None
    thickest_mm10: int | None
    words: str

    @property
    def allowed(self) -> bool:
        """True only where the table says so."""
        return self.least_radius_mm10 is not None and self.radius_mm10 >= self.least_radius_mm10


def check_bend(thickness_mm10: int, radius_mm10: int, curve: Curve) -> Bend:
    """Ask the table; outside it the answer says so rather than extrapolate."""
    if thickness_mm10 <= 0:
        raise MeasureAgain("Measure the thickness of the sheet.", "thickness")
    if radius_mm10 <= 0:
        raise MeasureAgain("Measure the radius of the bend, or its chord and rise.", "radius")
    thickest = _thickest_for(radius_mm10, curve)
    if thickness_mm10 + ROUNDING_MM10 < TABLE[0].thickness_mm10:
        words = "Thinner than the table goes (6.4 mm, 1/4 in): not in the table. Bend a test strip."
        return Bend(thickness_mm10, radius_mm10, curve, None, thickest, words)
    row = next((row for row in TABLE if thickness_mm10 <= row.thickness_mm10 + ROUNDING_MM10), None)
    if row is None:
        words = (
            "Thicker than the table goes (19.1 mm, 3/4 in): not in the table. Use thinner layers or kerfs."
        )
        return Bend(thickness_mm10, radius_mm10, curve, None, thickest, words)
    least = _radius(row, curve)
    return Bend(thickness_mm10, radius_mm10, curve, least, thickest, _words(radius_mm10 >= least, thickest))


def _radius(row: Row, curve: Curve) -> int:
    return FOOT_MM10 * (row.across_ft if curve is Curve.ACROSS else row.along_ft)


def _thickest_for(radius_mm10: int, curve: Curve) -> int | None:
    fitting = [row.thickness_mm10 for row in TABLE if _radius(row, curve) <= radius_mm10]
    return int(max(fitting)) if fitting else None


def _words(allowed: bool, thickest: int | None) -> str:
    if allowed:
        return "The table allows it, dry. Picked panels, wetting or steam allow less; a knot or patch, more."
    if thickest is None:
        return "The table has no sheet for so tight a bend: laminate thin layers, or cut kerfs."
    return "Too thick for that bend, dry. Laminate thinner layers, turn the sheet, or cut kerfs."


@dataclass(frozen=True)
class Kerfs:
    """Saw kerfs on the inside of a bend that close up as it is bent."""

    count: int
    spacing_mm10: int
    depth_mm10: int


def kerf_cuts(
    *, thickness_mm10: int, radius_mm10: int, degrees: Decimal, kerf_mm10: int, skin_mm10: int
) -> Kerfs:
    """How many kerfs close over a bend to that outside radius, and how far apart they are on the inside.

    Each kerf closes by its own width, and the inside is shorter than the uncut skin by depth × angle. Plane
    geometry; common practice leaves a skin of 2 to 3 mm and tries a strip first.
    """
    depth = thickness_mm10 - skin_mm10
    if skin_mm10 <= 0 or depth <= 0:
        raise MeasureAgain("The skin left uncut must be thinner than the sheet. Measure both.", "skin")
    if kerf_mm10 <= 0 or not 0 < degrees <= 360:
        raise MeasureAgain("Measure the saw's kerf and the angle of the bend (up to 360°).", "kerf")
    if radius_mm10 <= thickness_mm10:
        raise MeasureAgain("The radius must be more than the thickness. Measure it again.", "radius")
    angle = math.radians(float(degrees))
    count = math.ceil(depth * angle / kerf_mm10)
    arc = (radius_mm10 - skin_mm10) * angle
    return Kerfs(count, math.floor(arc / count), depth)
