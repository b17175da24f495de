"""Which table does an uploaded file hold? CSV in the usual encodings and marks, or an XLSX workbook."""

from __future__ import annotations

from materials.pricelist.read_csv import read_csv
from materials.pricelist.read_xlsx import read_xlsx
from materials.pricelist.table import MOST_BYTES, Table, UnreadableFileError

_ZIP = b"PK\x03\x04"
_OTHER_KINDS = {
    b"\xd0\xcf\x11\xe0": "This is an old .xls workbook, or one with a password. Save it as .xlsx or CSV.",
    b"%PDF": "This is a PDF. Ask the supplier for the list as CSV or XLSX.",
    b"\x89PNG": "This is a picture, not a table.",
    b"\xff\xd8\xff": "This is a picture, not a table.",
}


def read_table(content: bytes, *, sheet: str = "") -> Table:
    """Read a file by what it holds, whatever its name says.

    Raises `UnreadableFileError` in plain words for a file that is empty, too large, or no table.
    """
    if len(content) > MOST_BYTES:
        raise UnreadableFileError(f"The file is over {MOST_BYTES // 1024 // 1024} MB. Split it in two.")
    if not content.strip(b" \t\r\n\x00\xef\xbb\xbf\xff\xfe"):
        raise UnreadableFileError("The file is empty.")
    for start, words in _OTHER_KINDS.items():
        if content.startswith(start):
            raise UnreadableFileError(words)
    return read_xlsx(content, sheet=sheet) if content.startswith(_ZIP) else read_csv(content)
