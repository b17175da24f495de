"""How are the figures of the working rounded and written?"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

MM10_PER_M = Decimal(10_000)
M2_PER_MM10_SQUARED = Decimal("1e-8")
M3_PER_MM10_CUBED = Decimal("1e-12")


def rounded(value: Decimal | float, places: int) -> Decimal:
    """Round half up to so many decimals.

    >>> rounded(Decimal("2.345"), 2)
    Decimal('2.35')
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    return exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


def plain(value: Decimal | int, places: int = 3) -> str:
    """Write a number with no idle zeros.

    >>> plain(Decimal("2.500")), plain(Decimal("1200")), plain(Decimal("0.0004"))
    ('2.5', '1200', '0')
    """
    written = f"{rounded(Decimal(value), places):f}"
    return (written.rstrip("0").rstrip(".") or "0") if "." in written else written


def metres(length_mm10: int) -> Decimal:
    """Tenths of a millimetre as metres, exactly."""
    return Decimal(length_mm10) / MM10_PER_M


def with_unit(written: str, unit: str) -> str:
    """An amount with its unit; what is counted one by one has none to write.

    >>> with_unit("14.5", "m"), with_unit("608", "each")
    ('14.5 m', '608')
    """
    return written if unit == "each" else f"{written} {unit}".strip()


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> counted(1, "course"), counted(22, "course"), counted(2, "box", "boxes")
    ('1 course', '22 courses', '2 boxes')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"
