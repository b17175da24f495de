"""What length did the maker write, and how is it shown back?

Lengths are whole tenths of a millimetre (`length_mm10`). Inches are exactly 25.4 mm and feet 304.8 mm
(international definitions of 1959). What is written is read exactly, as a fraction, and rounded once,
half up, to the tenth of a millimetre.

>>> parse_length("2.4 m"), parse_length("4' 6 1/2\\""), parse_length("2400")
(24000, 13843, 24000)
>>> format_length(13843, System.FEET)
'4\\' 6 1/2"'
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

LONGEST_MM10 = 10_000_000
"""One kilometre: anything longer on a workshop's bench is a slip of the unit."""


class System(StrEnum):
    """The workshop's system of measure: what a number without a unit means, and how lengths are shown."""

    METRIC = "metric"
    FEET = "feet"


class LengthError(ValueError):
    """A length that can't be read; the message says in plain words what to write instead."""


@dataclass(frozen=True)
class _Part:
    number: Fraction
    unit: str
    written: str


MM10_IN = {
    "mm": Fraction(10),
    "cm": Fraction(100),
    "m": Fraction(10_000),
    "in": Fraction(254),
    "ft": Fraction(3048),
}

_UNIT_WORDS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "ins", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
}

_MARKS = str.maketrans(
    {
        "’": "'", "‘": "'", "′": "'", "´": "'", "`": "'",
        "”": '"', "“": '"', "″": '"', "⁄": "/", "−": "-", "–": "-",
        "\u00a0": " ", "\u2009": " ", "\u202f": " ",
    }
)  # fmt: skip

_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip

_PART = re.compile(
    r"""\s*
    (?P<number>
        \d+ (?:\s+|\s*-\s*) \d+\s*/\s*\d+     # 6 1/2, 6-1/2
      | \d+\s*/\s*\d+                         # 3/4
      | \d+ (?:[.,]\d+)? | [.,]\d+            # 2400, 2.4, 2,4, .5
    )
    \s* (?P<unit>[a-z]+\.?|'{2}|["'])?
    \s* (?:-(?=\s*\d))?""",
    re.VERBOSE,
)

_EXAMPLES = {
    System.METRIC: "2400, 2.4 m or 240 cm",
    System.FEET: "4' 6 1/2\", 6 ft 2 or 3/4 in",
}


def parse_length(text: str, system: System = System.METRIC) -> int:
    """Read a length as makers write it and give tenths of a millimetre, rounded half up.

    A bare number is millimetres in a metric workshop, inches in the other; a bare number after feet is
    inches. A comma may stand for the decimal point. What could be read two ways is refused, not guessed.

    >>> parse_length("6ft 2"), parse_length("0,75 m"), parse_length("3/4 in")
    (18796, 7500, 191)
    """
    written = _tidy(text)
    if not written:
        raise LengthError(f"Write a length, such as {_EXAMPLES[system]}.")
    if written.startswith("-"):
        raise LengthError("A length can't be below zero.")
    parts = _split(written, text, system)
    _check_order(parts, text)
    total = sum((part.number * MM10_IN[part.unit] for part in parts), Fraction(0))
    if total > LONGEST_MM10:
        raise LengthError(f"“{text.strip()}” is over a kilometre. Check the unit.")
    return _half_up(total)


def _tidy(text: str) -> str:
    written = text.translate(_MARKS)
    for sign, plain in _VULGAR.items():
        written = written.replace(sign, f" {plain}")
    return written.strip().lower()


def _split(written: str, text: str, system: System) -> list[_Part]:
    parts: list[_Part] = []
    place = 0
    while place < len(written):
        match = _PART.match(written, place)
        if match is None or match.end() == place:
            raise LengthError(f"“{text.strip()}” is not a length. Write it like {_EXAMPLES[system]}.")
        parts.append(_read_part(match, parts, text, system))
        place = match.end()
    return parts


def _read_part(match: re.Match[str], before: list[_Part], text: str, system: System) -> _Part:
    number_text = match["number"]
    unit = _unit_of(match["unit"], number_text, before, text, system)
    _refuse_thousands(number_text, unit, text)
    return _Part(_number_of(number_text, text), unit, number_text)


def _unit_of(word: str | None, number_text: str, before: list[_Part], text: str, system: System) -> str:
    if word:
        word = '"' if word == "''" else word.rstrip(".")
        if word not in _UNIT_WORDS:
            raise LengthError(f"“{word}” is not a unit. Use mm, cm, m, in or ft.")
        return _UNIT_WORDS[word]
    if before and before[-1].unit == "ft":
        return "in"
    if before:
        raise LengthError(f"“{text.strip()}”: say the unit of the last number too.")
    if system is System.METRIC and "/" in number_text:
        raise LengthError(f"“{text.strip()}” needs a unit: is it {text.strip()} in?")
    return "mm" if system is System.METRIC else "in"


def _refuse_thousands(number_text: str, unit: str, text: str) -> None:
    """2,400 (or 2.400 mm) is 2.4 to one maker and 2400 to the next: ask."""
    doubtful = re.fullmatch(r"([1-9]\d{0,2})[.,](\d{3})", number_text)
    if doubtful is None or unit == "m" or ("." in number_text and unit != "mm"):
        return
    whole, rest = doubtful.groups()
    raise LengthError(
        f"“{text.strip()}” could be {whole}.{rest.rstrip('0') or '0'} or {whole}{rest}. "
        "Leave out the mark that parts the thousands."
    )


def _number_of(number_text: str, text: str) -> Fraction:
    mixed = re.fullmatch(r"(?:(\d+)[\s-]+)?(\d+)\s*/\s*(\d+)", number_text)
    if mixed is None:
        return Fraction(number_text.replace(",", "."))
    whole, top, bottom = mixed.groups()
    if int(bottom) == 0:
        raise LengthError(f"“{text.strip()}” has a fraction over nothing.")
    return Fraction(int(whole or 0)) + Fraction(int(top), int(bottom))


def _check_order(parts: list[_Part], text: str) -> None:
    """Each part must be of a smaller unit than the one before, all metric or all feet and inches."""
    units = [part.unit for part in parts]
    metric, feet = ["m", "cm", "mm"], ["ft", "in"]
    for ladder in (metric, feet):
        if all(unit in ladder for unit in units):
            places = [ladder.index(unit) for unit in units]
            if places == sorted(set(places)):
                return
    raise LengthError(f"“{text.strip()}” mixes units. Write one length, biggest unit first.")


def _half_up(value: Fraction) -> int:
    return int((value * 2 + 1) // 2)


def format_length(length_mm10: int, system: System = System.METRIC, *, unit: bool = True) -> str:
    """Show a length: millimetres to the tenth where there is one, or feet and inches to the sixteenth.

    Feet and inches are rounded to the nearest 1/16 in, half up; use `format_inches` for another fraction.

    >>> format_length(24000), format_length(195), format_length(24000, unit=False)
    ('2400 mm', '19.5 mm', '2400')
    """
    if system is System.FEET:
        return format_inches(length_mm10)
    sign, size = ("−", -length_mm10) if length_mm10 < 0 else ("", length_mm10)
    whole, tenth = divmod(size, 10)
    figure = f"{sign}{whole}.{tenth}" if tenth else f"{sign}{whole}"
    return f"{figure} mm" if unit else figure


def format_inches(length_mm10: int, *, smallest: int = 16) -> str:
    """Show a length in feet, inches and a fraction in lowest terms, to the nearest 1/`smallest` in.

    >>> format_inches(18796), format_inches(191), format_inches(3048)
    ('6\\' 2"', '3/4"', "1'")
    """
    sign, size = ("−", -length_mm10) if length_mm10 < 0 else ("", length_mm10)
    steps = _half_up(Fraction(size, 254) * smallest)
    feet, rest = divmod(steps, 12 * smallest)
    inches, part = divmod(rest, smallest)
    words = [f"{feet}'"] if feet else []
    figures = [str(inches)] if inches else []
    if part:
        fraction = Fraction(part, smallest)
        figures.append(f"{fraction.numerator}/{fraction.denominator}")
    if figures:
        words.append(" ".join(figures) + '"')
    return sign + (" ".join(words) or '0"')
