"""A table as a file: CSV or XLSX, whose cells hold what was typed and never run as a formula."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.http import HttpResponse

Cell = str | int | Decimal | date | None
CSV_TYPE = "text/csv; charset=utf-8"
XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
FORMATS = ("csv", "xlsx")
_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_NOT_IN_A_CELL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


@dataclass(frozen=True)
class Table:
    """Heads and rows under a name."""

    name: str
    heads: Sequence[str]
    rows: Sequence[Sequence[Cell]]


def harmless(text: str) -> str:
    """Text that a spreadsheet would take for a formula gets an apostrophe before it.

    >>> harmless("=1+1"), harmless("oak"), harmless("-")
    ("'=1+1", 'oak', "'-")
    """
    return f"'{text}" if text.startswith(_STARTS_A_FORMULA) else text


def as_file(table: Table, kind: str) -> HttpResponse:
    """The table to be saved, as `csv` or `xlsx`."""
    content, content_type = (xlsx_bytes(table), XLSX_TYPE) if kind == "xlsx" else (csv_bytes(table), CSV_TYPE)
    name = re.sub(r"[^A-Za-z0-9-]+", "-", table.name).strip("-").lower() or "table"
    return HttpResponse(
        content,
        content_type=content_type,
        headers={"Content-Disposition": f'attachment; filename="{name}.{kind}"'},
    )


def csv_bytes(table: Table) -> bytes:
    """CSV by RFC 4180 in UTF-8, with the mark by which spreadsheets know the encoding."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerows(_plain(row) for row in _all_rows(table))
    return out.getvalue().encode("utf-8-sig")


def xlsx_bytes(table: Table) -> bytes:
    """A workbook of one table; numbers are numbers, text is text whatever it starts with."""
    from openpyxl import Workbook  # slow import

    book = Workbook(write_only=True)
    page = book.create_sheet(re.sub(r"[\[\]:*?/\\]", " ", table.name)[:31])
    page.freeze_panes = "A2"
    for row in _all_rows(table):
        page.append([_xlsx_cell(page, value) for value in row])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _all_rows(table: Table) -> Iterator[Sequence[Cell]]:
    yield table.heads
    yield from table.rows


def _plain(row: Sequence[Cell]) -> list[str]:
    return [harmless(cell) if isinstance(cell, str) else "" if cell is None else str(cell) for cell in row]


def _xlsx_cell(page: Any, value: Cell) -> Any:
    from openpyxl.cell import WriteOnlyCell

    if not isinstance(value, str):
        return value
    cell = WriteOnlyCell(page, _NOT_IN_A_CELL.sub("", value))
    cell.data_type = "s"
    return cell
