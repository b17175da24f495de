"""Which rows has the catalogue as a price list: one for each size at each supplier, at today's prices?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from materials.models import Material
from materials.pricelist.columns import Column
from materials.pricelist.export import ExportRow, as_millimetres
from materials.queries.prices import Offer, PricedSize, priced_sizes


def export_rows(on: date) -> Iterator[ExportRow]:
    """Every material in use, in three queries. A size without a price stands there with none."""
    materials = list(Material.objects.filter(archived_at=None))
    sizes = priced_sizes(None, on=on)
    for material in materials:
        facts = _facts(material)
        for size in sizes.get(material.pk, ()):
            of_size = {**facts, **_of_size(material, size)}
            for offer in size.offers or (None,):
                yield {**of_size, **_of_offer(offer)}


def _facts(material: Material) -> ExportRow:
    return {
        Column.CODE: material.code,
        Column.NAME: material.name,
        Column.KIND: material.kind,
        Column.SPECIES: material.species,
        Column.THICKNESS: as_millimetres(material.thickness_mm10),
        Column.WIDTH: as_millimetres(material.width_mm10),
        Column.COVER_WIDTH: as_millimetres(material.cover_width_mm10),
        Column.TONGUE: as_millimetres(material.tongue_mm10),
        Column.UNIT: material.unit,
        Column.GRAIN: material.grain,
        Column.DENSITY: material.density_kg_m3,
        Column.DENSITY_SOURCE: material.density_source,
        Column.MASS: material.mass_per_unit_kg,
        Column.COVERAGE: material.coverage_m2,
        Column.RECLAIMED: "yes" if material.reclaimed else "no",
        Column.NOTES: " ".join(material.notes.split()),
    }


def _of_size(material: Material, size: PricedSize) -> ExportRow:
    length, width = as_millimetres(size.length_mm10), as_millimetres(size.width_mm10)
    if width and material.kind != "sheet":  # its width column holds the section's
        return {Column.SIZE: f"{length} × {width}", Column.PACK: size.pack_quantity}
    sheet = {Column.WIDTH: width} if material.kind == "sheet" else {}
    return {Column.LENGTH: length, Column.PACK: size.pack_quantity, **sheet}


def _of_offer(offer: Offer | None) -> ExportRow:
    if offer is None:
        return {}
    return {
        Column.SUPPLIER: offer.supplier,
        Column.SUPPLIER_CODE: offer.supplier_code,
        Column.PRICE: offer.price,
        Column.FROM_DATE: offer.from_date.isoformat(),
    }
