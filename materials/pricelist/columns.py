"""Which columns can a price list have, by which heads, and where do the heads stand?"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from materials.pricelist.table import Cell, Table

LOOKED_AT = 30


class Column(StrEnum):
    """What a column of a price list can tell."""

    SUPPLIER = "supplier"
    SUPPLIER_CODE = "supplier_code"
    CODE = "code"
    NAME = "name"
    KIND = "kind"
    SPECIES = "species"
    THICKNESS = "thickness"
    WIDTH = "width"
    COVER_WIDTH = "cover_width"
    TONGUE = "tongue"
    LENGTH = "length"
    SIZE = "size"
    PACK = "pack"
    UNIT = "unit"
    PRICE = "price"
    PRICE_PER = "price_per"
    FROM_DATE = "from_date"
    GRAIN = "grain"
    DENSITY = "density"
    DENSITY_SOURCE = "density_source"
    MASS = "mass"
    COVERAGE = "coverage"
    RECLAIMED = "reclaimed"
    NOTES = "notes"


LABELS: dict[Column, str] = {
    Column.SUPPLIER: "Supplier",
    Column.SUPPLIER_CODE: "Supplier's code",
    Column.CODE: "Own code",
    Column.NAME: "Name",
    Column.KIND: "Kind",
    Column.SPECIES: "Species or make-up",
    Column.THICKNESS: "Thickness",
    Column.WIDTH: "Width",
    Column.COVER_WIDTH: "Cover width",
    Column.TONGUE: "Tongue",
    Column.LENGTH: "Length",
    Column.SIZE: "Size (2440 × 1220)",
    Column.PACK: "In a pack",
    Column.UNIT: "Unit",
    Column.PRICE: "Price",
    Column.PRICE_PER: "Price is per",
    Column.FROM_DATE: "Price from",
    Column.GRAIN: "Grain",
    Column.DENSITY: "Density kg/m³",
    Column.DENSITY_SOURCE: "Density from",
    Column.MASS: "Mass of a unit kg",
    Column.COVERAGE: "Covers m²",
    Column.RECLAIMED: "Reclaimed",
    Column.NOTES: "Notes",
}
"""What a column is called on the page and in an exported list."""

_OTHER_HEADS: dict[Column, str] = {
    Column.SUPPLIER: "merchant|vendor|sold by|maker|manufacturer",
    Column.SUPPLIER_CODE: "supplier code|supplier ref|sku|item|item no|item number|article|article no|part no"
    "|part number|product code|stock code|order code|cat no|ref|reference",
    Column.CODE: "our code|our ref|code|material code",
    Column.NAME: "description|product|product name|title|material|item description",
    Column.KIND: "type|category|group|class",
    Column.SPECIES: "species|timber|wood|make up|material type",
    Column.THICKNESS: "thick|thk|t mm|depth",
    Column.WIDTH: "wide|overall width|face width|w mm",
    Column.COVER_WIDTH: "cover|covering width|effective width|laid width",
    Column.TONGUE: "tongue width",
    Column.LENGTH: "long|stock length|board length|l mm",
    Column.SIZE: "sheet size|dimensions|dims|size",
    Column.PACK: "pack|pack qty|pack quantity|pack size|qty per pack|box|box quantity|per pack|tin|tin size",
    Column.UNIT: "uom|units|unit of measure",
    Column.PRICE: "net|net price|price ex vat|price excl vat|price without tax|price net|unit price|"
    "list price|trade price|cost|each|amount|price gbp|price eur|price usd",
    Column.PRICE_PER: "per|price unit|price basis|priced per|sold per",
    Column.FROM_DATE: "date|valid from|from|from date|effective|effective from|price date",
    Column.GRAIN: "grain direction",
    Column.DENSITY: "density",
    Column.DENSITY_SOURCE: "density source",
    Column.MASS: "mass|weight|kg|unit weight|mass of a unit",
    Column.COVERAGE: "coverage|spreading rate|m2 per litre|covers",
    Column.RECLAIMED: "second hand|salvaged",
    Column.NOTES: "note|remarks|comment|comments",
}


def plain_head(head: str) -> str:
    """A head in small letters without its marks and its unit, so that “Length (mm)” is “length”."""
    words = re.sub(r"\([^)]*\)", " ", head.casefold().replace("m²", "m2").replace("'", "").replace("’", ""))
    words = re.sub(r"[^a-z0-9]+", " ", words).strip()
    return re.sub(r"\s+(mm|cm|m|in|inches|kg|kg m3|kg m|gbp|eur|usd|m2)$", "", words) or words


_BY_HEAD: dict[str, Column] = {
    plain_head(head): column
    for column in Column
    for head in [LABELS[column], *_OTHER_HEADS.get(column, "").split("|")]
    if head
}


def column_of(head: str) -> Column | None:
    """Which column a head names, if it is one of the usual ones."""
    plain = plain_head(head)
    return _BY_HEAD.get(plain) or _BY_HEAD.get(plain.rpartition(" ")[2] if " " in plain else "")


@dataclass(frozen=True)
class Heads:
    """The heads of a table: what they say, and on which row the list begins below them."""

    names: tuple[str, ...]
    first_row: int

    def guess(self, *, of_one_supplier: bool = False) -> dict[int, Column]:
        """Which column each head names; the first head keeps a name that comes twice.

        In one supplier's own list a bare “code” is the supplier's.
        """
        found: dict[int, Column] = {}
        exact = {at: _BY_HEAD.get(plain_head(name)) for at, name in enumerate(self.names)}
        for at, column in exact.items():
            if column and column not in found.values():
                found[at] = column
        for at, name in enumerate(self.names):
            column = column_of(name)
            if at not in found and column and column not in found.values():
                found[at] = column
        if of_one_supplier and Column.SUPPLIER_CODE not in found.values():
            for at, column in found.items():
                if column is Column.CODE and plain_head(self.names[at]) in {"code", "material code"}:
                    found[at] = Column.SUPPLIER_CODE
        return dict(sorted(found.items()))


def find_heads(table: Table) -> Heads:
    """The row among the first thirty that has most heads known to us; its group heads go before them.

    A title above, or heads in two rows with merged cells, are seen through. Where no row has two known heads
    the first row that has anything is taken.
    """
    rows = range(min(LOOKED_AT, len(table.rows)))
    known = {at: sum(column_of(str(cell)) is not None for cell in table.rows[at]) for at in rows}
    best = max(rows, key=lambda at: (known[at], -at))
    if known[best] < 2:
        best = next(at for at in rows if any(table.rows[at]))
    return heads_at(table, best)


def heads_at(table: Table, row: int) -> Heads:
    """The heads on a given row, together with a second head row below it, or group heads above."""
    last = row + 1 if _is_second_row(table, row) else row
    first = row - 1 if last == row and row and _is_second_row(table, row - 1) else row
    lines = [table.rows[at] for at in range(first, last + 1)]
    if len(lines) == 2:
        lines[0] = _spread(lines[0], table.width)
    names = tuple(
        " ".join(dict.fromkeys(str(line[at]) for line in lines if at < len(line) and line[at]))
        for at in range(table.width)
    )
    return Heads(names, last + 1)


def _is_second_row(table: Table, row: int) -> bool:
    """Whether the row below holds more heads: words where this row has gaps, and no figure anywhere."""
    if row + 1 >= len(table.rows):
        return False
    above, below = table.rows[row], table.rows[row + 1]
    if not any(above) or len([cell for cell in above if cell]) < 2:
        return False
    fills_gaps = any(cell and (at >= len(above) or not above[at]) for at, cell in enumerate(below))
    no_figures = all(isinstance(cell, str) and not re.search(r"\d", cell) for cell in below)
    return fills_gaps and no_figures and any(column_of(str(cell)) for cell in below if cell)


def _spread(row: tuple[Cell, ...], width: int) -> tuple[Cell, ...]:
    """A merged cell keeps its words in its first column: give them to the gaps after it."""
    spread: list[Cell] = []
    for at in range(width):
        word = row[at] if at < len(row) else ""
        spread.append(word or (spread[-1] if spread else ""))
    return tuple(spread)
