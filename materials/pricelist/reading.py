"""How is a list read? The owner's choices, as they are kept between two pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from jobs.lengths import System
from materials.pricelist.columns import Column, Heads, find_heads, heads_at
from materials.pricelist.numbers import POINT, decimal_mark_of
from materials.pricelist.table import Table

LENGTH_UNITS = {"": "as the workshop writes", "mm": "mm", "cm": "cm", "m": "m", "in": "inches", "ft": "feet"}


@dataclass(frozen=True)
class Reading:
    """How the owner says the list is to be read. `heads_row` counts as a spreadsheet does; 0 finds it.

    `kinds` says of single rows, counted alike, what they are where the list does not.
    """

    columns: Mapping[int, Column]
    today: date
    supplier: str = ""
    kind: str = ""
    decimal_mark: str = POINT
    length_unit: str = ""
    system: System = System.METRIC
    month_first: bool = False
    heads_row: int = 0
    kinds: Mapping[int, str] = field(default_factory=dict)

    def heads(self, table: Table) -> Heads:
        return heads_at(table, self.heads_row - 1) if self.heads_row else find_heads(table)


def first_reading(
    table: Table, *, today: date, supplier: str, usual_mark: str, system: System, month_first: bool
) -> Reading:
    """The reading offered for a list that was just uploaded, from its heads and its figures."""
    heads = find_heads(table)
    columns = heads.guess(of_one_supplier=bool(supplier))
    figures = [at for at, column in columns.items() if column in _FIGURES]
    cells = [table.cell(row, at) for at in figures for row in range(heads.first_row, len(table.rows))]
    return Reading(
        columns=columns,
        today=today,
        supplier=supplier,
        decimal_mark=decimal_mark_of(cells, usual=usual_mark),
        system=system,
        month_first=month_first,
        heads_row=0,
    )


_FIGURES = frozenset({Column.PRICE, Column.PACK, Column.MASS, Column.DENSITY, Column.COVERAGE})


def as_kept(reading: Reading) -> dict[str, Any]:
    """The reading in words that can be kept as JSON."""
    return {
        "columns": {str(at): column.value for at, column in reading.columns.items()},
        "today": reading.today.isoformat(),
        "supplier": reading.supplier,
        "kind": reading.kind,
        "decimal_mark": reading.decimal_mark,
        "length_unit": reading.length_unit,
        "system": reading.system.value,
        "month_first": reading.month_first,
        "heads_row": reading.heads_row,
        "kinds": {str(row): kind for row, kind in reading.kinds.items()},
    }


def from_kept(kept: Mapping[str, Any]) -> Reading:
    """The reading that was kept."""
    return Reading(
        **{
            **kept,
            "columns": {int(at): Column(column) for at, column in kept["columns"].items()},
            "today": date.fromisoformat(kept["today"]),
            "system": System(kept["system"]),
            "kinds": {int(row): kind for row, kind in kept.get("kinds", {}).items()},
        }
    )
