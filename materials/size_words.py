"""How is a stock size written: a length, a sheet, a box of so many, a tin of so much?"""

from __future__ import annotations

from decimal import Decimal

from jobs.lengths import System, format_length


def size_words(
    length_mm10: int | None, width_mm10: int | None, pack: Decimal, *, unit: str, system: System
) -> str:
    """A size in words.

    >>> size_words(24400, 12200, Decimal(1), unit="each", system=System.METRIC)
    '2440 × 1220 mm'
    >>> size_words(None, None, Decimal("2.5"), unit="l", system=System.METRIC)
    '2.5 l'
    """
    parts = []
    if length_mm10 and width_mm10:
        plain = system is System.FEET
        parts.append(
            f"{format_length(length_mm10, system, unit=plain)} × {format_length(width_mm10, system)}"
        )
    elif length_mm10:
        parts.append(format_length(length_mm10, system))
    if pack != 1 or (unit != "each" and not parts):
        amount = f"{pack.normalize():f}"
        parts.append(f"pack of {amount}" if unit == "each" else f"{amount} {unit}")
    return ", ".join(parts) or "one"
