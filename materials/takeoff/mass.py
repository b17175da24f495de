"""What does it weigh, and where does that weight sit?

Density at a stated moisture: 1000 × specific gravity at that moisture × (1 + moisture / 100) kg/m³
(Wood Handbook, FPL-GTR-190 (2010) ch. 4 eq. 4-12). Axle and hitch loads by moments about the supports.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import metres, plain, rounded
from materials.takeoff.result import Step
from materials.takeoff.specs import Catalogue, MaterialSpec

WEIGH_IT = (
    "A computed mass is a guide only. Weigh the finished thing, follow the limits on its plate, and ask the "
    "local rules on loads, axles and towing."
)


def density_at(specific_gravity: Decimal, moisture_pct: Decimal) -> Decimal:
    """Density in kg/m³ from specific gravity on volume at that moisture.

    >>> density_at(Decimal("0.40"), Decimal(12))
    Decimal('448.0000')
    """
    return 1000 * specific_gravity * (1 + moisture_pct / 100)


def sheet_mass_per_m2(thickness_mm10: int, density_kg_m3: Decimal) -> Decimal:
    """Kilograms in a square metre.

    >>> sheet_mass_per_m2(120, Decimal(550))
    Decimal('6.600')
    """
    return Decimal(thickness_mm10) / 10_000 * density_kg_m3


def board_mass(length_m: Decimal, spec: MaterialSpec) -> Decimal | None:
    """Mass of so many metres of board or length; None where the catalogue can't say.

    A tongue fills the groove beside it, so the section is cover width × thickness.
    """
    if spec.mass_per_unit_kg is not None:
        return rounded(length_m * spec.mass_per_unit_kg, 3)
    if spec.density_kg_m3 is None or not spec.thickness_mm10 or not spec.cover_mm10:
        return None
    section_m2 = metres(spec.cover_mm10) * metres(spec.thickness_mm10)
    return rounded(length_m * section_m2 * spec.density_kg_m3, 3)


def sheet_mass(area_m2: Decimal, spec: MaterialSpec) -> Decimal | None:
    """Mass of so much sheet; None where the catalogue can't say."""
    if spec.mass_per_unit_kg is not None:
        return rounded(area_m2 * spec.mass_per_unit_kg, 3)
    if spec.density_kg_m3 is None or not spec.thickness_mm10:
        return None
    return rounded(area_m2 * sheet_mass_per_m2(spec.thickness_mm10, spec.density_kg_m3), 3)


def counted_mass(amount: Decimal, spec: MaterialSpec) -> Decimal | None:
    """Mass of so many pieces, fixings or litres; None where the catalogue can't say."""
    return None if spec.mass_per_unit_kg is None else rounded(amount * spec.mass_per_unit_kg, 3)


def added(masses: Iterable[Decimal | None]) -> Decimal | None:
    """The sum of the masses that are known; None where none is."""
    known = [mass for mass in masses if mass is not None]
    return sum(known, Decimal(0)) if known else None


def density_step(
    spec: MaterialSpec, area_m2: Decimal, mass_kg: Decimal | None, catalogue: Catalogue
) -> tuple[Step, ...]:
    """The line of working for the mass of an area of board or sheet."""
    if mass_kg is None:
        return (Step(f"{spec.name}: no density in the catalogue, so no mass"),)
    if spec.density_kg_m3 is None or spec.mass_per_unit_kg is not None:
        return (Step("Mass", f"{plain(mass_kg, 1)} kg", "mass per unit in the catalogue"),)
    at = f" at {plain(spec.moisture_pct)} % moisture" if spec.moisture_pct is not None else ""
    thick = catalogue.show(spec.thickness_mm10)
    sums = f"{plain(area_m2, 3)} m² × {thick} × {plain(spec.density_kg_m3)} kg/m³{at}"
    return (Step("Mass of what is fitted", f"{sums} = {plain(mass_kg, 1)} kg", "area × thickness × density"),)


@dataclass(frozen=True)
class Load:
    """A mass and how far in front of the datum it sits (behind is negative)."""

    name: str
    mass_kg: Decimal
    ahead_mm10: int


@dataclass(frozen=True)
class Shared:
    """What each of two supports carries, and where the whole of the load sits."""

    total_kg: Decimal
    centre_ahead_mm10: int
    front_kg: Decimal
    rear_kg: Decimal


@dataclass(frozen=True)
class Carried:
    """What one support carries: of what is built in, and what it carried empty, against its limit."""

    built_in_kg: Decimal
    empty_kg: Decimal | None = None
    limit_kg: Decimal | None = None

    @property
    def laden_kg(self) -> Decimal | None:
        """Empty and what is built in; None where it was not weighed empty."""
        return None if self.empty_kg is None else self.empty_kg + self.built_in_kg

    @property
    def left_kg(self) -> Decimal | None:
        """What its limit still allows; below nothing it is over. None where either is not known."""
        return None if self.limit_kg is None or self.laden_kg is None else self.limit_kg - self.laden_kg


def share_load(loads: Iterable[Load], front_ahead_mm10: int, rear_ahead_mm10: int = 0) -> Shared:
    """Share loads between two supports (two axles, or hitch and axle) by moments; parts add up to the whole.

    Raises `MeasureAgain` where the supports are not apart. A support can be unloaded (negative) by a mass
    beyond the other one.
    """
    span = front_ahead_mm10 - rear_ahead_mm10
    if span <= 0:
        raise MeasureAgain(
            "The front support must lie ahead of the rear one. Measure both from the datum.", "front"
        )
    taken = list(loads)
    total = sum((load.mass_kg for load in taken), Decimal(0))
    moment = sum((load.mass_kg * (load.ahead_mm10 - rear_ahead_mm10) for load in taken), Decimal(0))
    front = rounded(moment / span, 1)
    centre = rear_ahead_mm10 + (int(rounded(moment / total, 0)) if total else 0)
    return Shared(total, centre, front, total - front)
