"""What does take-off need to know of the materials it names, as the catalogue has them today?"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import cast

from django.utils import timezone

from jobs.lengths import System
from jobs.workshop import current_workshop
from materials.enums import Grain, MaterialKind, PlanKind
from materials.models import Material
from materials.queries.plan_tasks import remembered_settings
from materials.queries.prices import PricedSize, priced_sizes
from materials.takeoff.specs import Catalogue, MaterialSpec, PackSize, StockSize

PER_METRE = frozenset({"m", "metre", "meter"})
PER_SQUARE_METRE = frozenset({"m2", "m²"})
CUT_FROM_STOCK = frozenset({MaterialKind.BOARD, MaterialKind.LENGTH, MaterialKind.SHEET})


def catalogue_of(keys: Iterable[str], *, on: date | None = None) -> Catalogue:
    """The materials of these keys with their sizes and best prices on a day (today), in three queries.

    A fourth where there is a sheet: what the workshop last trimmed off its edges. Archived materials
    stay readable, since old items still name them. A key that names nothing is left out.
    """
    ids = {int(key) for key in keys if key.isdigit()}
    system = System(current_workshop().measurement)
    if not ids:
        return Catalogue({}, system)
    found = Material.objects.in_bulk(ids)
    sizes = priced_sizes(found, on=on or timezone.localdate())
    any_sheet = any(material.kind == MaterialKind.SHEET for material in found.values())
    trim_mm10 = remembered_settings()[PlanKind.SHEET].trim_mm10 if any_sheet else 0
    return Catalogue({str(pk): spec_of(found[pk], sizes.get(pk, ())) for pk in found}, system, trim_mm10)


def spec_of(material: Material, sizes: Iterable[PricedSize]) -> MaterialSpec:
    """One catalogue line as calculation sees it."""
    taken = list(sizes)
    cut = material.kind in CUT_FROM_STOCK
    width = material.width_mm10 or 0
    tongue = material.tongue_mm10 or 0
    return MaterialSpec(
        key=str(material.pk),
        name=material.name,
        kind=material.kind,
        width_mm10=width,
        thickness_mm10=material.thickness_mm10 or 0,
        cover_width_mm10=material.cover_width_mm10 or max(width - tongue, 0),
        density_kg_m3=material.density_kg_m3,
        moisture_pct=material.moisture_percent,
        mass_per_unit_kg=_mass_per_unit(material),
        coverage_m2_per_litre=material.coverage_m2,
        packs=() if cut else tuple(PackSize(size.pack_quantity, size.price) for size in taken),
        has_grain=material.grain == Grain.ALONG,
        stock=tuple(_stock(size) for size in taken if size.length_mm10) if cut else (),
    )


def _mass_per_unit(material: Material) -> Decimal | None:
    """The catalogue's own mass where its unit is the one that calculation counts in."""
    unit, mass_kg = material.unit.strip().lower(), cast(Decimal | None, material.mass_per_unit_kg)
    if material.kind == MaterialKind.SHEET:
        return mass_kg if unit in PER_SQUARE_METRE else None
    if material.kind in CUT_FROM_STOCK:
        return mass_kg if unit in PER_METRE else None
    return mass_kg


def _stock(size: PricedSize) -> StockSize:
    return StockSize(size.length_mm10 or 0, size.width_mm10 or 0, size.price_of_one)
