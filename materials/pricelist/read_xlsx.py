"""Which table does a sheet of an XLSX workbook hold? Formulas stay text, as they were written."""

from __future__ import annotations

import io
import zipfile
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from materials.pricelist.table import MOST_COLUMNS, MOST_ROWS, Cell, Table, UnreadableFileError

_MOST_UNPACKED = 300 * 1024 * 1024
_NOT_A_WORKBOOK = "This is not an XLSX workbook. Save the list as .xlsx or CSV."


def read_xlsx(content: bytes, *, sheet: str = "") -> Table:
    """Read one sheet: the named one, or the one that has most in it."""
    _refuse_what_is_no_workbook(content)
    import pandas as pd  # a fifth of a second to load, and only an import needs it

    try:
        book = pd.ExcelFile(io.BytesIO(content), engine="openpyxl", engine_kwargs={"data_only": False})
    except Exception:  # openpyxl raises whatever the broken part of the file provokes
        raise UnreadableFileError(f"The workbook is damaged. {_NOT_A_WORKBOOK}") from None
    with book:
        names = tuple(str(name) for name in book.sheet_names)
        if sheet and sheet not in names:
            raise UnreadableFileError(f"There is no sheet “{sheet}”. There is: {', '.join(names)}.")
        chosen = sheet or _fullest(book, names)
        rows = _rows(book, chosen)
    if not any(rows):
        raise UnreadableFileError(f"The sheet “{chosen}” is empty.")
    return Table(tuple(rows), f"XLSX, sheet “{chosen}”", chosen, names)


def _refuse_what_is_no_workbook(content: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            if "xl/workbook.xml" not in archive.namelist():
                raise UnreadableFileError(_NOT_A_WORKBOOK)
            if sum(part.file_size for part in archive.infolist()) > _MOST_UNPACKED:
                raise UnreadableFileError("The workbook is too large when unpacked. Split it in two.")
    except zipfile.BadZipFile:
        raise UnreadableFileError(f"The workbook is damaged. {_NOT_A_WORKBOOK}") from None


def _fullest(book: Any, names: tuple[str, ...]) -> str:
    """The sheet with most cells by its own account; the first among equals."""
    if len(names) == 1:
        return names[0]
    sizes = {name: _stated_size(book.book[name]) for name in names}
    return max(names, key=lambda name: sizes[name])


def _stated_size(sheet: Any) -> int:
    """Rows times columns as the sheet states them; a chart or a sheet that doesn't say counts as nothing."""
    rows, columns = getattr(sheet, "max_row", None) or 0, getattr(sheet, "max_column", None) or 0
    return min(rows, MOST_ROWS) * min(columns, MOST_COLUMNS)


def _rows(book: Any, sheet: str) -> list[tuple[Cell, ...]]:
    import pandas as pd  # loaded by now

    try:
        frame = pd.read_excel(
            book, sheet_name=sheet, header=None, dtype=object, na_filter=False, nrows=MOST_ROWS + 1
        )
    except Exception:  # openpyxl raises whatever the broken part of the file provokes
        raise UnreadableFileError(f"The sheet “{sheet}” can't be read: the workbook is damaged.") from None
    if len(frame) > MOST_ROWS:
        raise UnreadableFileError(f"The list has over {MOST_ROWS:,} rows. Split it in two.")
    rows = [_without_tail(row) for row in frame.itertuples(index=False, name=None)]
    if max((len(row) for row in rows), default=0) > MOST_COLUMNS:
        raise UnreadableFileError(f"There are over {MOST_COLUMNS} columns: this is no price list.")
    return rows


def _without_tail(row: tuple[Any, ...]) -> tuple[Cell, ...]:
    cells = [_cell(value) for value in row]
    while cells and cells[-1] == "":
        cells.pop()
    return tuple(cells)


def _cell(value: Any) -> Cell:
    """A spreadsheet keeps 15 significant digits of a number, so 12.1 is read as 12.1 and not as its float."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return Decimal(value)
    if isinstance(value, float):
        return Decimal(format(value, ".15g")) if value == value else ""  # noqa: PLR0124 - not a number
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date | time):
        return value.isoformat()
    return "" if value is None else str(value).strip()
