"""How is the catalogue written as a price list that reads back the same, with no cell taken for a formula?"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from jobs.lengths import format_length
from materials.pricelist.columns import LABELS, Column

ExportRow = Mapping[Column, str | Decimal | None]
COLUMNS = [column for column in Column if column is not Column.PRICE_PER]
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

    def cell(value: str | Decimal | None) -> Any:
        if isinstance(value, Decimal):
            return float(value)
        if not value or not value.startswith(_STARTS_A_FORMULA):
            return value or None
        made = WriteOnlyCell(sheet, value=value)
        made.data_type = "s"
        return made

    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Price list")
    sheet.freeze_panes = "A2"
    sheet.append([LABELS[column] for column in COLUMNS])
    for row in rows:
        sheet.append([cell(row.get(column)) for column in COLUMNS])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _plain(value: str | Decimal | None) -> str:
    return f"{value:f}" if isinstance(value, Decimal) else _safe(value)


def _safe(value: str | None) -> str:
    """Text that would start a formula gets an apostrophe first; reading the list takes it off again."""
    text = value or ""
    return f"'{text}" if text.startswith(_STARTS_A_FORMULA) else text
