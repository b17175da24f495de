"""What does the catalogue hold, as a price list is compared with it and written from it?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from materials.models import Material, Price, StockSize, Supplier
from materials.pricelist.compare import Known, KnownMaterial, KnownPrice, SizeKey

DETAILS = (
    "thickness_mm10",
    "width_mm10",
    "cover_width_mm10",
    "tongue_mm10",
    "density_kg_m3",
    "density_source",
    "mass_per_unit_kg",
    "coverage_m2",
    "grain",
    "species",
    "unit",
    "reclaimed",
    "notes",
)


@dataclass(frozen=True)
class CatalogueIndex:
    """The catalogue by the keys a list speaks in, and the rows those keys stand for."""

    known: Known
    material_ids: dict[str, int]
    size_ids: dict[tuple[str, SizeKey], int]
    supplier_ids: dict[str, int]


def size_key(size: StockSize) -> SizeKey:
    return (size.length_mm10 or 0, size.width_mm10 or 0, size.pack_quantity)


def index_catalogue(suppliers: Iterable[str]) -> CatalogueIndex:
    """The whole catalogue with the prices of the named suppliers, in four queries."""
    sellers = {supplier.pk: supplier.name for supplier in Supplier.objects.all()}
    materials = {material.pk: material for material in Material.objects.all()}
    sizes = {size.pk: (materials[size.material_id].code, size_key(size)) for size in StockSize.objects.all()}
    sizes_of: dict[str, set[SizeKey]] = defaultdict(set)
    for code, key in sizes.values():
        sizes_of[code].add(key)
    named = {name.casefold() for name in suppliers}
    known = Known(
        materials={material.code: _known(material) for material in materials.values()},
        sizes={code: frozenset(keys) for code, keys in sizes_of.items()},
        prices=_prices({pk: name for pk, name in sellers.items() if name.casefold() in named}, sizes),
        suppliers={name.casefold(): name for name in sellers.values()},
    )
    return CatalogueIndex(
        known=known,
        material_ids={material.code: material.pk for material in materials.values()},
        size_ids={place: pk for pk, place in sizes.items()},
        supplier_ids={name.casefold(): pk for pk, name in sellers.items()},
    )


def _known(material: Material) -> KnownMaterial:
    details: dict[str, Any] = {name: getattr(material, name) for name in DETAILS}
    return KnownMaterial(
        material.code, material.name, material.kind, details, material.archived_at is not None
    )


def _prices(
    sellers: dict[int, str], sizes: dict[int, tuple[str, SizeKey]]
) -> dict[tuple[str, SizeKey, str], tuple[KnownPrice, ...]]:
    found: dict[tuple[str, SizeKey, str], list[KnownPrice]] = defaultdict(list)
    of_sellers = Price.objects.filter(supplier__in=sellers) if len(sellers) < 500 else Price.objects.all()
    for price in of_sellers:
        code, size = sizes[price.size_id]
        seller = sellers.get(price.supplier_id, "").casefold()
        found[(code, size, seller)].append(KnownPrice(price.price, price.from_date, price.supplier_code))
    return {key: tuple(history) for key, history in found.items()}
