"""Which number did the list write, with a point or a comma, and marks between the thousands?"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from decimal import Decimal

from materials.pricelist.table import Cell

POINT, COMMA = ".", ","
_CURRENCY = re.compile(r"^(?:[A-Z]{3}|[$£€¥]|kr\.?)\s*|\s*(?:[A-Z]{3}|[$£€¥]|kr\.?)$", re.IGNORECASE)
_SPACES = str.maketrans({"\u00a0": " ", "\u2009": " ", "\u202f": " ", "−": "-", "’": "'", "＇": "'"})
_LARGEST = Decimal(10) ** 10


class NumberError(ValueError):
    """Not a number; the message says why in plain words."""


def read_number(cell: Cell, decimal_mark: str) -> Decimal:
    """Read a number with currency signs and thousands marks, exactly.

    >>> read_number("£1,234.50", POINT), read_number("1.234,50 €", COMMA), read_number("1 234,5", COMMA)
    (Decimal('1234.50'), Decimal('1234.50'), Decimal('1234.5'))
    """
    number = cell if isinstance(cell, Decimal) else _read_text(cell, decimal_mark)
    if number < 0:
        raise NumberError(f"“{cell}” is below nothing.")
    if number >= _LARGEST:
        raise NumberError(f"“{cell}” is too large to be meant.")
    return number


def _read_text(text: str, decimal_mark: str) -> Decimal:
    written = text.translate(_SPACES).strip()
    if written.startswith("="):
        raise NumberError(f"“{text}” is a formula. Save the list with values instead.")
    if written.startswith("(") and written.endswith(")"):
        raise NumberError(f"“{text}” is below nothing.")
    sign = "-" if written.startswith("-") else ""
    bare = _CURRENCY.sub("", _CURRENCY.sub("", written.removeprefix("-").strip())).strip()
    if not _pattern(decimal_mark).fullmatch(bare):
        raise NumberError(_why_not(text, bare, decimal_mark))
    plain = re.sub(r"[ ']", "", bare).replace(_other(decimal_mark), "").replace(decimal_mark, ".")
    return Decimal(sign + plain)


def _pattern(decimal_mark: str) -> re.Pattern[str]:
    """Plain digits, or digits in threes with one kind of mark between; then decimals, if any."""
    mark, thousands = re.escape(decimal_mark), re.escape(_other(decimal_mark))
    return re.compile(
        rf"(?:\d+|\d{{1,3}}(?:{thousands}\d{{3}})+|\d{{1,3}}(?: \d{{3}})+|\d{{1,3}}(?:'\d{{3}})+)?"
        rf"(?:{mark}\d+)?(?<=\d)"
    )


def _why_not(text: str, bare: str, decimal_mark: str) -> str:
    if _pattern(_other(decimal_mark)).fullmatch(bare):
        name = "a comma" if decimal_mark == COMMA else "a point"
        return f"“{text}” does not fit the rest of the list, which has {name} before the decimals."
    return f"“{text}” is not a number."


def _other(decimal_mark: str) -> str:
    return COMMA if decimal_mark == POINT else POINT


_SAYS_COMMA = re.compile(r"\d,\d{1,2}(?!\d)|\d,\d{4,}|\d\.\d{3},\d|\d[ ']\d{3},\d")
_SAYS_POINT = re.compile(r"\d\.\d{1,2}(?!\d)|\d\.\d{4,}|\d,\d{3}\.\d|\d[ ']\d{3}\.\d")


def decimal_mark_of(cells: Iterable[Cell], *, usual: str = POINT) -> str:
    """Which mark stands before the decimals in a column, by those numbers that can only be read one way."""
    votes: Counter[str] = Counter()
    for cell in cells:
        if isinstance(cell, str):
            votes[COMMA] += bool(_SAYS_COMMA.search(cell))
            votes[POINT] += bool(_SAYS_POINT.search(cell))
    if votes[COMMA] == votes[POINT]:
        return usual
    return COMMA if votes[COMMA] > votes[POINT] else POINT
