"""How is the catalogue written as a price list that reads back the same, with no cell taken for a formula?"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from decimal import Decimal

from jobs.lengths import format_length
from materials.pricelist.columns import LABELS, Column

ExportRow = Mapping[Column, str | Decimal | None]
COLUMNS = [column for column in Column if column not in {Column.SIZE, Column.PRICE_PER}]
_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def as_millimetres(length_mm10: int | None) -> str | None:
    """A length in millimetres with its unit, which reads back exactly whatever the workshop's system."""
    return None if length_mm10 is None else format_length(length_mm10)


def write_csv(rows: Iterable[ExportRow]) -> bytes:
    """The list as CSV in UTF-8 with its mark, which spreadsheets need to see accents."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([LABELS[column] for column in COLUMNS])
    for row in rows:
        writer.writerow([_plain(row.get(column)) for column in COLUMNS])
    return b"\xef\xbb\xbf" + out.getvalue().encode()


def write_xlsx(rows: Iterable[ExportRow]) -> bytes:
    """The list as an XLSX workbook: numbers as numbers, text as text and never as a formula."""
    import openpyxl  # an eighth of a second to load, and only an export needs it
    from openpyxl.cell import WriteOnlyCell

    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Price list")
    sheet.freeze_panes = "A2"
    sheet.append([LABELS[column] for column in COLUMNS])
    for row in rows:
        cells = []
        for column in COLUMNS:
            value = row.get(column)
            cell = WriteOnlyCell(sheet, value=float(value) if isinstance(value, Decimal) else _safe(value))
            if isinstance(value, str):
                cell.data_type = "s"
            cells.append(cell)
        sheet.append(cells)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _plain(value: str | Decimal | None) -> str:
    return f"{value:f}" if isinstance(value, Decimal) else _safe(value)


def _safe(value: str | None) -> str:
    """Text that would start a formula gets an apostrophe before it, which reading the list takes off again."""
    text = value or ""
    return f"'{text}" if text.startswith(_STARTS_A_FORMULA) else text
