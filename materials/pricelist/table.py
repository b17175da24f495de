"""What stands in a price list file, cell by cell, before anybody says what its columns mean?"""

from __future__ import annotations

import json
import zlib
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

Cell = str | Decimal
"""Text, or a number where the file itself says that it is one (a spreadsheet does, a CSV never)."""

MOST_BYTES = 10 * 1024 * 1024
MOST_ROWS = 60_000
MOST_COLUMNS = 60


class UnreadableFileError(ValueError):
    """The file is no table; the message says what it looks like and what to do."""


@dataclass(frozen=True)
class Table:
    """Every row of the file, blank ones too, so that row 1 here is row 1 in a spreadsheet."""

    rows: tuple[tuple[Cell, ...], ...]
    read_as: str
    sheet: str = ""
    sheets: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        return max((len(row) for row in self.rows), default=0)

    def cell(self, row: int, column: int) -> Cell:
        """A cell by its place from nought; nothing where the row is shorter."""
        cells = self.rows[row]
        return cells[column] if column < len(cells) else ""


def pack(table: Table) -> bytes:
    """The table in few bytes, to be kept between two pages."""
    held = {
        "rows": [[_as_json(cell) for cell in row] for row in table.rows],
        "read_as": table.read_as,
        "sheet": table.sheet,
        "sheets": table.sheets,
    }
    return zlib.compress(json.dumps(held, separators=(",", ":")).encode(), level=3)


def unpack(held: bytes) -> Table:
    """The table that was packed."""
    found: dict[str, Any] = json.loads(zlib.decompress(held))
    rows = tuple(tuple(_from_json(cell) for cell in row) for row in found["rows"])
    return Table(rows, found["read_as"], found["sheet"], tuple(found["sheets"]))


def _as_json(cell: Cell) -> Any:
    return [str(cell)] if isinstance(cell, Decimal) else cell


def _from_json(cell: Any) -> Cell:
    return Decimal(cell[0]) if isinstance(cell, list) else str(cell)
