"""Which table does a CSV file hold, in whichever encoding and with whichever mark between its columns?"""

from __future__ import annotations

import io
import re
from collections import Counter

from materials.pricelist.table import MOST_COLUMNS, MOST_ROWS, Table, UnreadableFileError

_MARKS = {";": "semicolons", "\t": "tabs", ",": "commas", "|": "bars"}
_MARK_NAMED = re.compile(r"\Asep=(.)\r?\n", re.IGNORECASE)
_NOT_TEXT = re.compile(r"[\x00-\x08\x0e-\x1f]")
_QUOTED = re.compile(r'"(?:[^"]|"")*"')


def read_csv(content: bytes) -> Table:
    """Read CSV text. The encoding and the mark are found by looking, and said in `read_as`."""
    text, encoding = _decode(content)
    if _NOT_TEXT.search(text):
        raise UnreadableFileError("This is not a CSV file: it holds signs that no text has.")
    named = _MARK_NAMED.match(text)
    mark = named[1] if named else _mark_of(text)
    rows = _rows(text, mark)
    if named:
        rows[0] = ()
    return Table(tuple(rows), f"CSV, {encoding}, columns parted by {_MARKS.get(mark, repr(mark))}")


def _decode(content: bytes) -> tuple[str, str]:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace"), "UTF-16"
    bare = _bare_utf_16(content)
    if bare:
        return content.decode(bare, errors="replace"), "UTF-16"
    try:
        return content.decode("utf-8-sig"), "UTF-8"
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace"), "Windows-1252"


def _bare_utf_16(content: bytes) -> str:
    """UTF-16 without its mark shows as a nought in nearly every second byte."""
    start = content[:2000]
    if len(start) < 4:
        return ""
    for first, name in ((0, "utf-16-be"), (1, "utf-16-le")):
        if start[first::2].count(0) > 0.8 * len(start[first::2]) and start[1 - first :: 2].count(0) == 0:
            return name
    return ""


def _mark_of(text: str) -> str:
    """The mark that parts most lines into the same number of columns, and into the most columns."""
    lines = [line for line in _QUOTED.sub("", text[:100_000]).splitlines() if line.strip()][:80]
    scores = {mark: _evenness(lines, mark) for mark in _MARKS}
    best = max(scores, key=lambda mark: scores[mark])
    if scores[best] == (0, 0):
        raise UnreadableFileError(
            "This is not a table: it has only one column. Save the list as CSV with a comma or a semicolon "
            "between the columns, or as XLSX."
        )
    return best


def _evenness(lines: list[str], mark: str) -> tuple[int, int]:
    """How many lines share the commonest count of a mark (in tenths of all), and that count."""
    counts = Counter(line.count(mark) for line in lines)
    counts.pop(0, None)
    if not counts:
        return (0, 0)
    count, lines_alike = max(counts.items(), key=lambda item: (item[1], item[0]))
    return (10 * lines_alike // len(lines), count) if lines_alike * 3 >= len(lines) else (0, 0)


def _rows(text: str, mark: str) -> list[tuple[str, ...]]:
    import pandas as pd  # a fifth of a second to load, and only an import needs it

    try:
        frame = pd.read_csv(
            io.StringIO(text),
            sep=mark,
            header=None,
            names=range(MOST_COLUMNS),
            index_col=False,
            dtype=str,
            keep_default_na=False,
            na_filter=False,
            skip_blank_lines=False,
            nrows=MOST_ROWS + 1,
            on_bad_lines="error",
        )
    except (pd.errors.ParserError, pd.errors.ParserWarning) as problem:
        raise UnreadableFileError(_in_words(str(problem))) from None
    if len(frame) > MOST_ROWS:
        raise UnreadableFileError(f"The list has over {MOST_ROWS:,} rows. Split it in two.")
    return [_without_tail(row) for row in frame.itertuples(index=False, name=None)]


def _in_words(problem: str) -> str:
    if "EOF inside string" in problem:
        return "A quotation mark is opened in the file and never closed."
    line = re.search(r"line (\d+)", problem)
    where = f" in row {line[1]}" if line else ""
    return f"There are over {MOST_COLUMNS} columns{where}: this is no price list."


def _without_tail(row: tuple[str, ...]) -> tuple[str, ...]:
    cells = [str(cell).strip() for cell in row]
    while cells and not cells[-1]:
        cells.pop()
    return tuple(cells)
