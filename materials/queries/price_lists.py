"""What does an uploaded price list say, and what would it change?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from jobs.lengths import System
from jobs.workshop import current_workshop
from materials.models import PriceList
from materials.pricelist.columns import LABELS, Column, Heads
from materials.pricelist.compare import Comparison, compare
from materials.pricelist.kinds import guess_kind
from materials.pricelist.line import Fault, Line, Problem, said_once
from materials.pricelist.reading import Reading, from_kept
from materials.pricelist.rows import read_rows
from materials.pricelist.table import Table, unpack
from materials.queries.catalogue_as_known import CatalogueIndex, index_catalogue
from materials.size_words import size_words

MOST_SHOWN = 100
USUAL_UNITS = {"liquid": "l"}
"""What a new material is counted in where its row names no unit; each, where it is not named here."""


@dataclass(frozen=True)
class Examined:
    """A list read and held against the catalogue."""

    table: Table
    heads: Heads
    reading: Reading
    rows_read: int
    comparison: Comparison
    index: CatalogueIndex
    of_chosen_kind: tuple[Line, ...]

    @property
    def problems(self) -> list[Problem]:
        return sorted(self.comparison.problems, key=lambda problem: problem.row)

    @property
    def bad_rows(self) -> int:
        return len({problem.row for problem in self.comparison.problems})


def examine(price_list: PriceList) -> Examined:
    """Read the list as its owner chose and compare it with the catalogue, in four queries."""
    table, reading = unpack(bytes(price_list.table)), from_kept(price_list.reading)
    heads = reading.heads(table)
    lines, problems = read_rows(table, heads, reading)
    index = index_catalogue({line.supplier for line in lines})
    comparison = compare(lines, index.known, currency=current_workshop().currency)
    named = {column.value: heads.names[at] for at, column in reading.columns.items() if at < len(heads.names)}
    comparison.problems[:] = problems + [
        Problem(p.row, named.get(p.column) or LABELS[Column(p.column)], p.reason) for p in comparison.problems
    ]
    rows_read = len(lines) + len({p.row for p in problems})
    chosen = tuple(line for line in lines if line.row in reading.kinds)
    return Examined(table, heads, reading, rows_read, comparison, index, chosen)


@dataclass(frozen=True)
class ShownColumn:
    """A column of the file with its first values and what it was matched to."""

    at: int
    field_name: str
    head: str
    samples: tuple[str, ...]
    matched: str


@dataclass(frozen=True)
class AskedKind:
    """A new row that does not say what it is, with what was chosen for it or else a guess."""

    row: int
    field_name: str
    name: str
    kind: str
    is_guess: bool


@dataclass(frozen=True)
class ShownPrice:
    """One price that the list would write."""

    row: int
    name: str
    size: str
    supplier: str
    before: Any
    after: Any


@dataclass(frozen=True)
class PriceListPage:
    """The page of a list that is not written yet."""

    price_list: PriceList
    examined: Examined
    columns: tuple[ShownColumn, ...]
    prices: tuple[ShownPrice, ...]
    problems: tuple[Problem, ...]
    faults: tuple[Fault, ...]
    more_faults: int
    kinds: tuple[AskedKind, ...]
    more_kinds: int
    more_prices: int
    missing: tuple[str, ...]

    @property
    def changed_prices(self) -> int:
        found = self.examined.comparison
        return len(found.prices) - found.first_prices


def price_list_page(price_list: PriceList) -> PriceListPage:
    """Everything the matching page shows, in four queries."""
    examined = examine(price_list)
    prices, faults = examined.comparison.prices, said_once(examined.problems)
    kinds = _asked_kinds(examined)
    return PriceListPage(
        price_list=price_list,
        examined=examined,
        columns=_columns(examined),
        prices=tuple(_shown(price, examined) for price in prices[:MOST_SHOWN]),
        problems=tuple(examined.problems[:MOST_SHOWN]),
        faults=tuple(faults[:MOST_SHOWN]),
        more_faults=max(0, len(faults) - MOST_SHOWN),
        kinds=kinds[:MOST_SHOWN],
        more_kinds=max(0, len(kinds) - MOST_SHOWN),
        more_prices=max(0, len(prices) - MOST_SHOWN),
        missing=missing_columns(examined.reading),
    )


def missing_columns(reading: Reading) -> tuple[str, ...]:
    """What must be matched before anything can be written, in words."""
    have = set(reading.columns.values())
    missing = []
    if Column.PRICE not in have:
        missing.append("the price")
    if not have & {Column.CODE, Column.SUPPLIER_CODE, Column.NAME}:
        missing.append("a code or a name")
    return tuple(missing)


def _asked_kinds(examined: Examined) -> tuple[AskedKind, ...]:
    """The rows whose kind is asked: those without one first, then those it was chosen for."""
    guessed = [
        AskedKind(one.row, f"kind_{one.row}", one.name, guess_kind(one), is_guess=True)
        for one in examined.comparison.kindless
    ]
    chosen = [
        AskedKind(one.row, f"kind_{one.row}", one.name, examined.reading.kinds[one.row], is_guess=False)
        for one in examined.of_chosen_kind
    ]
    return (*guessed, *chosen)


def _columns(examined: Examined) -> tuple[ShownColumn, ...]:
    table, heads = examined.table, examined.heads
    rows = [
        row for row in range(heads.first_row, min(len(table.rows), heads.first_row + 40)) if table.rows[row]
    ]
    shown = []
    for at in range(table.width):
        samples = [str(table.cell(row, at)) for row in rows]
        matched = examined.reading.columns.get(at)
        head = heads.names[at] if at < len(heads.names) else ""
        first = tuple(sample for sample in dict.fromkeys(samples) if sample)[:3]
        if head or first:
            shown.append(ShownColumn(at, f"column_{at}", head, first, matched.value if matched else ""))
    return tuple(shown)


def _shown(price: Any, examined: Examined) -> ShownPrice:
    made = examined.comparison.new_materials.get(price.code)
    there = examined.index.known.materials.get(price.code)
    material = made or there
    length, width, pack = price.size
    system = System(current_workshop().measurement)
    return ShownPrice(
        row=price.row,
        name=material.name if material else price.code,
        size=size_words(length or None, width or None, pack, unit=_unit(made, there), system=system),
        supplier=price.supplier,
        before=price.before,
        after=price.price,
    )


def _unit(made: Any, there: Any) -> str:
    details = dict(made.details) if made else there.details if there else {}
    return str(details.get("unit") or (USUAL_UNITS.get(made.kind) if made else "") or "each")
