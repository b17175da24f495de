"""What does one line of a price list say, and what is wrong with a line that can't be taken?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

MOST_RUNS = 20


@dataclass(frozen=True)
class Problem:
    """Why a row is not taken: its number as a spreadsheet counts, the column's head, the reason."""

    row: int
    column: str
    reason: str


@dataclass(frozen=True)
class Fault:
    """A reason that keeps rows from being taken, said once for all of them: “2–15, 17”."""

    rows: str
    column: str
    reason: str


def said_once(problems: Iterable[Problem]) -> list[Fault]:
    """The problems in the order of their first rows, those of one column and reason together."""
    rows: dict[tuple[str, str], list[int]] = defaultdict(list)
    for problem in sorted(problems, key=lambda problem: problem.row):
        rows[problem.column, problem.reason].append(problem.row)
    return [Fault(rows_said(at), column, reason) for (column, reason), at in rows.items()]


def rows_said(rows: Iterable[int]) -> str:
    """Row numbers in their order, those that follow on each other as a run.

    >>> rows_said([2, 3, 4, 6, 8, 9])
    '2–4, 6, 8, 9'
    """
    runs: list[list[int]] = []
    for row in rows:
        if runs and row == runs[-1][-1] + 1:
            runs[-1].append(row)
        else:
            runs.append([row])
    said = [f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return ", ".join(said[:MOST_RUNS]) + (
        f" and {len(said) - MOST_RUNS} more" if len(said) > MOST_RUNS else ""
    )


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
