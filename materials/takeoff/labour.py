"""How many hours does this quantity stand for, by the workshop's own rates and the grade of finish?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from materials.takeoff.figures import plain, rounded, with_unit
from materials.takeoff.result import Operation, Unit, Work


class Grade(StrEnum):
    """What will be seen of it: it scales the labour."""

    SEEN = "seen"
    PAINTED = "painted"
    CONCEALED = "concealed"


OPERATION_WORDS = {
    Operation.CLAD: "Clad in boards",
    Operation.LINE_SHEET: "Line in sheet",
    Operation.FRAME: "Frame and batten",
    Operation.TRIM: "Fit trim",
    Operation.SCRIBE: "Scribe",
    Operation.CUT_OUT: "Cut out for an opening or fitting",
    Operation.MITRE: "Mitre",
    Operation.END_JOINT: "Join end to end",
    Operation.MAKE_PART: "Make a sheet part",
    Operation.FIX: "Drive fixings",
    Operation.COAT: "Coat",
    Operation.FIT_PIECE: "Fit a piece",
}

OPERATION_UNITS = {
    Operation.CLAD: Unit.SQUARE_METRE,
    Operation.LINE_SHEET: Unit.SQUARE_METRE,
    Operation.FRAME: Unit.METRE,
    Operation.TRIM: Unit.METRE,
    Operation.SCRIBE: Unit.METRE,
    Operation.CUT_OUT: Unit.EACH,
    Operation.MITRE: Unit.EACH,
    Operation.END_JOINT: Unit.EACH,
    Operation.MAKE_PART: Unit.EACH,
    Operation.FIX: Unit.EACH,
    Operation.COAT: Unit.SQUARE_METRE,
    Operation.FIT_PIECE: Unit.EACH,
}

# From memory of common practice, not from a survey: a start until the workshop's own jobs say better.
STARTING_HOURS = {
    Operation.CLAD: Decimal("0.80"),
    Operation.LINE_SHEET: Decimal("0.50"),
    Operation.FRAME: Decimal("0.12"),
    Operation.TRIM: Decimal("0.15"),
    Operation.SCRIBE: Decimal("0.25"),
    Operation.CUT_OUT: Decimal("0.30"),
    Operation.MITRE: Decimal("0.10"),
    Operation.END_JOINT: Decimal("0.08"),
    Operation.MAKE_PART: Decimal("0.25"),
    Operation.FIX: Decimal("0.008"),
    Operation.COAT: Decimal("0.12"),
    Operation.FIT_PIECE: Decimal("0.30"),
}

STARTING_FACTORS = {
    Grade.SEEN: Decimal("1.00"),
    Grade.PAINTED: Decimal("0.85"),
    Grade.CONCEALED: Decimal("0.70"),
}


@dataclass(frozen=True)
class Rates:
    """Hours for one unit of each operation, and what each grade of finish makes of them."""

    hours: Mapping[Operation, Decimal]
    factors: Mapping[Grade, Decimal]


STARTING_RATES = Rates(STARTING_HOURS, STARTING_FACTORS)


@dataclass(frozen=True)
class HoursLine:
    """Hours for one operation, with the rate and grade that made them."""

    operation: Operation
    words: str
    amount: Decimal
    unit: Unit
    hours_per_unit: Decimal
    grade: Grade
    factor: Decimal
    hours: Decimal

    @property
    def figures(self) -> str:
        """The sum, as a maker would write it."""
        amount = with_unit(plain(self.amount, 2), self.unit)
        return (
            f"{amount} × {plain(self.hours_per_unit)} h × {plain(self.factor)} "
            f"({self.grade}) = {plain(self.hours, 2)} h"
        )


def hours_for(work: Iterable[Work], grade: Grade, rates: Rates = STARTING_RATES) -> tuple[HoursLine, ...]:
    """The hours of each operation: amount × hours a unit × factor of the grade, to the hundredth."""
    return tuple(_line(each, grade, rates) for each in work if each.operation in rates.hours)


def _line(work: Work, grade: Grade, rates: Rates) -> HoursLine:
    per_unit, factor = rates.hours[work.operation], rates.factors[grade]
    return HoursLine(
        operation=work.operation,
        words=OPERATION_WORDS[work.operation],
        amount=work.amount,
        unit=work.unit,
        hours_per_unit=per_unit,
        grade=grade,
        factor=factor,
        hours=rounded(work.amount * per_unit * factor, 2),
    )
