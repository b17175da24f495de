"""What does one line of a price list say, and what is wrong with a line that can't be taken?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any


@dataclass(frozen=True)
class Problem:
    """Why a row is not taken: its number as a spreadsheet counts, the column's head, the reason."""

    row: int
    column: str
    reason: str


@dataclass(frozen=True)
class Line:
    """One row, read: a material, a size of it and, where it has one, a supplier's price for that size.

    `size_said` is false where the row names no size at all, which is enough where the supplier's code is
    known. `details` are further facts of the material by field; only those stand here that the row states.
    `pack_said` and `litres` tell whether the row says what a pack holds, and `covers_by_litre` that its
    coverage is a litre's, whatever the unit is.
    """

    row: int
    code: str
    name: str
    kind: str
    supplier: str
    supplier_code: str
    length_mm10: int | None
    width_mm10: int | None
    pack_quantity: Decimal
    size_said: bool
    price: Decimal | None
    price_per: str
    from_date: date
    details: tuple[tuple[str, Any], ...] = ()
    pack_said: bool = False
    litres: Decimal | None = None
    covers_by_litre: bool = False

    @property
    def unit(self) -> str:
        """What the row says it is counted in."""
        return str(dict(self.details).get("unit", ""))

    @property
    def size(self) -> tuple[int, int, Decimal]:
        """What tells one size from another, as the database has it."""
        return (self.length_mm10 or 0, self.width_mm10 or 0, self.pack_quantity)
