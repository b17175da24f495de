"""How much paint, oil or glue, and how many tins?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import M2_PER_MM10_SQUARED, counted, metres, plain, rounded
from materials.takeoff.mass import counted_mass
from materials.takeoff.packs import pack_count, pack_step, quantities
from materials.takeoff.result import Operation, Result, Step, Unit, Work
from materials.takeoff.specs import Catalogue, MaterialSpec

RULE = "finish 2"
BEAD_RULE = "bead 2"
MIND_THE_TIN = "Follow its maker's sheet on mixing, air and waste; oily rags can catch fire by themselves."


@dataclass(frozen=True)
class Surface:
    """Surfaces all alike, by size; or by area where `area_m2` is given."""

    name: str
    width_mm10: int = 0
    height_mm10: int = 0
    quantity: int = 1
    area_m2: Decimal = Decimal(0)


@dataclass(frozen=True)
class Finish:
    """Coats over surfaces; a coverage of 0 takes the catalogue's, `spare_pct` is added to the net litres."""

    material_key: str
    surfaces: tuple[Surface, ...]
    coats: int = 1
    coverage_m2_per_litre: Decimal = Decimal(0)
    spare_pct: Decimal = Decimal(0)


def take_off(inputs: Finish, catalogue: Catalogue) -> Result:
    """Litres and tins: area × coats ÷ coverage, tins rounded up."""
    spec = catalogue.spec(inputs.material_key)
    coverage = inputs.coverage_m2_per_litre or spec.coverage_m2_per_litre or Decimal(0)
    _check(inputs, coverage, spec)
    area_m2 = rounded(sum((_area(surface) for surface in inputs.surfaces), Decimal(0)), 6)
    net = area_m2 * inputs.coats / coverage
    litres = rounded(net * (1 + inputs.spare_pct / 100), 3)
    tins = quantities(spec, litres, Unit.LITRE)
    return Result(
        rule=RULE,
        headline=f"{plain(litres, 2)} litres, {counted(pack_count(tins), 'tin')}",
        steps=(
            *_steps(inputs, spec, catalogue, (area_m2, coverage, litres)),
            pack_step(litres, tins, "tin"),
        ),
        quantities=tins,
        work=(Work(Operation.COAT, area_m2 * inputs.coats, Unit.SQUARE_METRE),),
        mass_kg=counted_mass(litres, spec),
        cautions=(MIND_THE_TIN,),
        area_m2=area_m2,
    )


def _check(inputs: Finish, coverage: Decimal, spec: MaterialSpec) -> None:
    if not inputs.surfaces:
        raise MeasureAgain("Measure at least one surface.", "surfaces")
    if inputs.coats <= 0:
        raise MeasureAgain("How many coats? It must be one or more.", "coats")
    if coverage <= 0:
        words = f"{spec.name} has no coverage in the catalogue. Write it here, from the tin."
        raise MeasureAgain(words, "coverage")
    if inputs.spare_pct < 0:
        raise MeasureAgain("The spare can't be below nothing.", "spare")


def _area(surface: Surface) -> Decimal:
    if surface.area_m2 < 0 or surface.quantity <= 0:
        raise MeasureAgain(f"{surface.name or 'A surface'} has no number. Count it again.", "surfaces")
    area = surface.area_m2 or M2_PER_MM10_SQUARED * surface.width_mm10 * surface.height_mm10
    if area <= 0:
        raise MeasureAgain(f"{surface.name or 'A surface'} has no size. Measure it again.", "surfaces")
    return area * surface.quantity


def _surface_step(surface: Surface, catalogue: Catalogue) -> Step:
    each = (
        f"{plain(surface.area_m2, 4)} m²"
        if surface.area_m2
        else f"{catalogue.figure(surface.width_mm10)} × {catalogue.figure(surface.height_mm10)}"
    )
    times = f" × {surface.quantity}" if surface.quantity > 1 else ""
    sums = f"{each}{times} = {plain(_area(surface), 4)} m²"
    return Step(surface.name or "Surface", sums, "width × height × number")


def _steps(
    inputs: Finish, spec: MaterialSpec, catalogue: Catalogue, found: tuple[Decimal, Decimal, Decimal]
) -> tuple[Step, ...]:
    area_m2, coverage, litres = found
    surfaces = (_surface_step(surface, catalogue) for surface in inputs.surfaces)
    spare = f" + {plain(inputs.spare_pct)} %" if inputs.spare_pct else ""
    sums = f"{plain(area_m2, 4)} × {inputs.coats} ÷ {plain(coverage)}{spare} = {plain(litres, 3)} litres"
    rule = f"area × coats ÷ coverage ({plain(coverage)} m² a litre)"
    return (*surfaces, Step(f"{spec.name}, {counted(inputs.coats, 'coat')}", sums, rule))


@dataclass(frozen=True)
class Bead:
    """Lengths of adhesive or filler all alike."""

    name: str
    length_mm10: int
    quantity: int = 1


@dataclass(frozen=True)
class Beads:
    """Adhesive, sealant or filler run as a round bead of one diameter."""

    material_key: str
    beads: tuple[Bead, ...]
    diameter_mm10: int
    spare_pct: Decimal = Decimal(0)


def take_off_beads(inputs: Beads, catalogue: Catalogue) -> Result:
    """Litres and cartridges: section of the bead × length."""
    spec = catalogue.spec(inputs.material_key)
    if not inputs.beads or any(bead.length_mm10 <= 0 or bead.quantity <= 0 for bead in inputs.beads):
        raise MeasureAgain("Measure each bead: its length and how many.", "beads")
    if inputs.diameter_mm10 <= 0:
        raise MeasureAgain("How thick is the bead? Measure it across.", "diameter")
    length_m = sum((metres(bead.length_mm10) * bead.quantity for bead in inputs.beads), Decimal(0))
    section_mm2 = rounded(math.pi / 4 * (inputs.diameter_mm10 / 10) ** 2, 3)
    litres = rounded(length_m * section_mm2 / 1000 * (1 + inputs.spare_pct / 100), 3)
    packs = quantities(spec, litres, Unit.LITRE)
    spare = f" + {plain(inputs.spare_pct)} %" if inputs.spare_pct else ""
    sums = f"{plain(length_m, 2)} m × {plain(section_mm2, 1)} mm² ÷ 1000{spare} = {plain(litres, 3)} litres"
    return Result(
        rule=BEAD_RULE,
        headline=f"{plain(length_m, 1)} m of bead, {counted(pack_count(packs), 'pack')}",
        steps=(
            Step("All beads end to end", f"{plain(length_m, 2)} m"),
            Step(f"Bead {catalogue.show(inputs.diameter_mm10)} across", sums, "length × π d²/4"),
            pack_step(litres, packs, "pack"),
        ),
        quantities=packs,
        mass_kg=counted_mass(litres, spec),
    )
