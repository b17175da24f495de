"""What do the rows of a table say, once its columns are matched?"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any

from jobs.lengths import LengthError, System, parse_length
from jobs.money import round_half_up
from materials.pricelist.columns import LABELS, Column, Heads
from materials.pricelist.contents import litres_in
from materials.pricelist.line import Line, Problem
from materials.pricelist.numbers import NumberError, read_number
from materials.pricelist.reading import Reading
from materials.pricelist.table import Cell, Table

KIND_WORDS = {
    "board": ("board", "boards", "timber", "cladding", "sawn", "par"),
    "sheet": ("sheet", "sheets", "panel", "panels", "ply", "plywood", "sheet material"),
    "length": ("length", "lengths", "moulding", "mouldings", "trim", "batten", "battens", "edging"),
    "piece": ("piece", "pieces", "hardware", "ironmongery", "fitting", "fittings"),
    "liquid": ("liquid", "liquids", "paint", "finish", "finishes", "adhesive", "adhesives", "oil", "varnish"),
    "fixing": ("fixing", "fixings", "screw", "screws", "nail", "nails", "fastener", "fasteners"),
}
_KIND_OF = {word: kind for kind, words in KIND_WORDS.items() for word in words}
_GRAIN_OF = {
    "": "",
    "along": "along",
    "along the length": "along",
    "yes": "along",
    "none": "none",
    "no": "none",
}
_PER = {
    "": "each", "each": "each", "ea": "each", "pack": "each", "sheet": "each", "board": "each",
    "piece": "each", "pc": "each", "box": "each", "tin": "each", "length": "each", "1": "each",
    "m": "m", "lm": "m", "lin m": "m", "linear m": "m", "metre": "m", "linear metre": "m",
    "m2": "m²", "m²": "m²", "sqm": "m²", "sq m": "m²", "square metre": "m²",
    "100": "100", "per 100": "100", "hundred": "100", "1000": "1000", "thousand": "1000",
    "unit": "unit", "l": "unit", "litre": "unit", "kg": "unit", "g": "unit", "ml": "unit",
}  # fmt: skip
KEPT_PLACES = 4
_SHORTEST_STOCK_MM10 = 500
_FORMULA_STARTS = ("=", "+", "-", "@")
MOST_WORDS = {"code": 40, "name": 160, "supplier": 120, "supplier_code": 60, "species": 60, "unit": 12}


class _Reader:
    """Reads one row, gathering what is wrong with it instead of stopping at the first."""

    def __init__(self, table: Table, heads: Heads, reading: Reading) -> None:
        self.table, self.reading = table, reading
        self.place = {column: at for at, column in reading.columns.items()}
        self.head = {column: heads.names[at] for column, at in self.place.items() if at < len(heads.names)}
        self.row, self.problems = 0, list[Problem]()

    def cell(self, column: Column) -> Cell:
        at = self.place.get(column)
        return "" if at is None else self.table.cell(self.row, at)

    def amiss(self, column: Column, reason: str) -> None:
        self.problems.append(Problem(self.row + 1, self.head.get(column) or LABELS[column], reason))

    def words(self, column: Column) -> str:
        cell = self.cell(column)
        text = " ".join((cell if isinstance(cell, str) else f"{cell.normalize():f}").split())
        if text[:1] == "'" and text[1:2] in _FORMULA_STARTS:
            text = text[1:]  # the apostrophe that keeps a spreadsheet from reckoning it
        most = MOST_WORDS.get(column.value, 400)
        if len(text) > most:
            self.amiss(column, f"is longer than {most} letters.")
        return text

    def number(self, column: Column) -> Decimal | None:
        found: Decimal | None = self._tried(column, lambda cell: read_number(cell, self.reading.decimal_mark))
        return None if found is None else round_half_up(found, KEPT_PLACES)

    def length(self, column: Column) -> int | None:
        reading = self.reading
        found: int | None = self._tried(column, lambda cell: read_length(cell, reading))
        return found or None

    @property
    def kind_unsaid(self) -> str:
        """What the row is where it does not say so itself: as chosen for it, else for all such rows."""
        return self.reading.kinds.get(self.row + 1) or self.reading.kind

    def day(self, column: Column) -> date | None:
        found: date | None = self._tried(
            column, lambda cell: read_date(str(cell), month_first=self.reading.month_first)
        )
        return found

    def one_of(self, column: Column, words: Mapping[str, str], usual: str = "") -> str:
        text = self.words(column).casefold()
        if not text:
            return usual
        if text not in words:
            known = ", ".join(sorted(set(filter(None, words.values()))))
            self.amiss(column, f"“{text}” is none of: {known}.")
        return words.get(text, usual)

    def _tried(self, column: Column, read: Callable[[Cell], Any]) -> Any:
        cell = self.cell(column)
        if cell == "":
            return None
        try:
            return read(cell)
        except (NumberError, LengthError, ValueError) as problem:
            self.amiss(column, str(problem))
            return None


def read_rows(table: Table, heads: Heads, reading: Reading) -> tuple[list[Line], list[Problem]]:
    """Every row below the heads as a line, or as the problems that keep it from being one.

    Blank rows are passed over, and so are rows with a single cell: a group's title between the lines.
    """
    reader = _Reader(table, heads, reading)
    lines: list[Line] = []
    for row in range(heads.first_row, len(table.rows)):
        reader.row = row
        if _is_no_line(table.rows[row], reader):
            continue
        before = len(reader.problems)
        line = _line(reader)
        if len(reader.problems) == before:
            lines.append(line)
    return lines, reader.problems


def _is_no_line(cells: tuple[Cell, ...], reader: _Reader) -> bool:
    filled = [at for at, cell in enumerate(cells) if cell != ""]
    return not filled or (len(filled) == 1 and filled[0] != reader.place.get(Column.PRICE))


def _line(reader: _Reader) -> Line:
    length, width = _size(reader)
    pack, litres = _pack(reader)
    kind = reader.one_of(Column.KIND, _KIND_OF, reader.kind_unsaid)
    price = reader.number(Column.PRICE)
    supplier = reader.words(Column.SUPPLIER) or reader.reading.supplier
    code, supplier_code, name = (
        reader.words(column) for column in (Column.CODE, Column.SUPPLIER_CODE, Column.NAME)
    )
    if not (code or supplier_code or name):
        reader.amiss(Column.NAME, "There is no code and no name.")
    if price is not None and not supplier:
        reader.amiss(Column.SUPPLIER, "There is a price, but no supplier: name one above.")
    return Line(
        row=reader.row + 1,
        code=code,
        name=name,
        kind=kind,
        supplier=supplier,
        supplier_code=supplier_code,
        length_mm10=length,
        width_mm10=width,
        pack_quantity=pack or Decimal(1),
        size_said=bool(length or width or pack or litres),
        price=price,
        price_per=reader.one_of(Column.PRICE_PER, _PER, "each"),
        from_date=reader.day(Column.FROM_DATE) or reader.reading.today,
        details=_details(reader, kind),
        pack_said=pack is not None,
        litres=litres or litres_in(name),
        covers_by_litre=bool(re.search("lit(re|er)|spread", reader.head.get(Column.COVERAGE, "").casefold())),
    )


def _size(reader: _Reader) -> tuple[int | None, int | None]:
    """Length, and width where the row is a sheet's or gives both in one cell."""
    length = reader.length(Column.LENGTH)
    width: int | None = None
    both = reader.words(Column.SIZE)
    if both and litres_in(both) is None:
        length, width = _size_in_one_cell(reader, both, length)
    elif _is_sheet(reader):
        width = reader.length(Column.WIDTH)
    if length and length < _SHORTEST_STOCK_MM10:
        reader.amiss(Column.LENGTH, "A stock length under 50 mm: say in which unit the lengths are.")
    return length, width


def _pack(reader: _Reader) -> tuple[Decimal | None, Decimal | None]:
    """How many are in a pack, or how many litres where that or the size says so: 2.5 l."""
    litres = litres_in(reader.words(Column.PACK))
    if litres is not None:
        return None, litres
    pack = reader.number(Column.PACK)
    if pack is not None and pack == 0:
        reader.amiss(Column.PACK, "A pack holds something.")
    return pack, litres_in(reader.words(Column.SIZE))


def _size_in_one_cell(reader: _Reader, text: str, length: int | None) -> tuple[int | None, int | None]:
    parts = [part.strip() for part in re.split(r"\s*[x×*]\s*", text.casefold()) if part.strip()]
    try:
        sizes = [read_length(part, reader.reading) for part in parts]
    except LengthError as problem:
        reader.amiss(Column.SIZE, str(problem))
        return length, None
    if len(sizes) == 3:
        sizes.remove(min(sizes))  # the thickness
    if len(sizes) > 2 or not sizes:
        reader.amiss(Column.SIZE, f"“{text}” is no size. Write it like 2440 × 1220.")
        return length, None
    return sizes[0], sizes[1] if len(sizes) > 1 else None


def _is_sheet(reader: _Reader) -> bool:
    return (_KIND_OF.get(reader.words(Column.KIND).casefold()) or reader.kind_unsaid) == "sheet"


def _details(reader: _Reader, kind: str) -> tuple[tuple[str, Any], ...]:
    found: dict[str, Any] = {
        "thickness_mm10": reader.length(Column.THICKNESS),
        "width_mm10": None if kind == "sheet" else reader.length(Column.WIDTH),
        "cover_width_mm10": reader.length(Column.COVER_WIDTH),
        "tongue_mm10": reader.length(Column.TONGUE),
        "density_kg_m3": reader.number(Column.DENSITY),
        "density_source": reader.words(Column.DENSITY_SOURCE),
        "mass_per_unit_kg": reader.number(Column.MASS),
        "coverage_m2": reader.number(Column.COVERAGE),
        "grain": reader.one_of(Column.GRAIN, _GRAIN_OF),
        "species": reader.words(Column.SPECIES),
        "unit": reader.words(Column.UNIT),
        "notes": reader.words(Column.NOTES),
    }
    reclaimed = reader.one_of(Column.RECLAIMED, {"yes": "yes", "no": "no", "true": "yes", "false": "no"})
    if reclaimed:
        found["reclaimed"] = reclaimed == "yes"
    return tuple((field, value) for field, value in found.items() if value not in (None, ""))


def read_length(cell: Cell, reading: Reading) -> int:
    """A length as the list writes it; a bare number is in the unit the owner chose.

    >>> read_length("2,4", Reading({}, date(2026, 1, 1), decimal_mark=",", length_unit="m"))
    24000
    """
    text = f"{cell.normalize():f}" if isinstance(cell, Decimal) else cell
    return _read_length(text, reading.length_unit, reading.system, reading.decimal_mark)


@lru_cache(maxsize=20_000)
def _read_length(text: str, unit: str, system: System, decimal_mark: str) -> int:
    if text.startswith("="):
        raise LengthError(f"“{text}” is a formula. Save the list with values instead.")
    bare = re.fullmatch(r"[\d.,' ]+", text)
    if bare and unit and "'" not in text:
        try:
            return parse_length(f"{read_number(text, decimal_mark)} {unit}", system)
        except NumberError as problem:
            raise LengthError(str(problem)) from None
    return parse_length(text, system)


@lru_cache(maxsize=2_000)
def read_date(text: str, *, month_first: bool = False) -> date:
    """A date as year-month-day, or as day/month/year (month/day/year where the workshop writes it so).

    >>> read_date("2026-03-01"), read_date("1.3.2026"), read_date("3/1/26", month_first=True)
    (datetime.date(2026, 3, 1), datetime.date(2026, 3, 1), datetime.date(2026, 3, 1))
    """
    found = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?", text)
    try:
        if found:
            return date(int(found[1]), int(found[2]), int(found[3]))
        found = re.fullmatch(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4}|\d{2})", text)
        if found:
            day, month = (found[2], found[1]) if month_first else (found[1], found[2])
            return date(int(found[3]) % 2000 + 2000, int(month), int(day))
    except ValueError:
        pass
    raise ValueError(f"“{text}” is not a date. Write it like 2026-03-31.")
