"""The workshop's own hours for one unit of each operation, and its grades of finish, as typed."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from jobs.progress import Lesson
from materials.takeoff.figures import plain
from materials.takeoff.labour import (
    OPERATION_UNITS,
    OPERATION_WORDS,
    STARTING_FACTORS,
    STARTING_HOURS,
    Grade,
    Rates,
)
from materials.takeoff.result import Operation, Unit

PER = {Unit.EACH: "each", Unit.METRE: "a metre", Unit.SQUARE_METRE: "a square metre", Unit.LITRE: "a litre"}
MOST_HOURS, MOST_FACTOR = Decimal(1000), Decimal(10)


class OperationHoursForm(forms.Form):
    """One field an operation and one a grade; left empty, the starting figure holds again.

    What finished jobs took stands beside it and is taken up only by being typed.
    """

    def __init__(self, data: Any, *, rates: Rates, learnt: Mapping[Operation, Lesson]) -> None:
        super().__init__(data)
        for operation in Operation:
            label = f"{OPERATION_WORDS[operation]}, hours {PER[OPERATION_UNITS[operation]]}"
            self.fields[operation.value] = _figure(
                label, rates.hours[operation], STARTING_HOURS[operation], Decimal(0), MOST_HOURS
            )
            if operation in learnt:
                self.fields[operation.value].help_text += _taught(learnt[operation])
        for grade in Grade:
            self.fields[f"grade_{grade.value}"] = _figure(
                f"Share of the hours where it is {grade.value}",
                rates.factors[grade],
                STARTING_FACTORS[grade],
                Decimal("0.01"),
                MOST_FACTOR,
            )

    def rates(self) -> tuple[dict[Operation, Decimal], dict[Grade, Decimal]]:
        """What was typed; what was left empty is left out."""
        typed = self.cleaned_data
        hours = {each: typed[each.value] for each in Operation if typed[each.value] is not None}
        factors = {grade: typed[f"grade_{grade.value}"] for grade in Grade}
        return hours, {grade: factor for grade, factor in factors.items() if factor is not None}


def _figure(label: str, now: Decimal, start: Decimal, least: Decimal, most: Decimal) -> forms.DecimalField:
    return forms.DecimalField(
        label=label,
        initial=plain(now),
        required=False,
        min_value=least,
        max_value=most,
        decimal_places=4,
        help_text=f"to start from: {plain(start)}",
    )


def _taught(lesson: Lesson) -> str:
    return (
        f"; your jobs took {lesson.median:.2f} (half of them {lesson.low:.2f} to {lesson.high:.2f}), "
        f"from {lesson.jobs} jobs"
    )
