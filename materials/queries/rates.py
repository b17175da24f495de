"""By which hours does this workshop reckon?"""

from __future__ import annotations

from jobs.progress import Lesson
from jobs.queries.learnt import finished_lessons
from materials.models import GradeFactor, OperationRate
from materials.takeoff.labour import (
    OPERATION_UNITS,
    OPERATION_WORDS,
    STARTING_FACTORS,
    STARTING_HOURS,
    Grade,
    Rates,
)
from materials.takeoff.result import Operation


def labour_rates() -> Rates:
    """The workshop's own rates over the starting ones, in two queries."""
    own = dict(OperationRate.objects.values_list("operation", "hours_each"))
    factors = dict(GradeFactor.objects.values_list("grade", "factor"))
    return Rates(
        hours={operation: own.get(operation.value, STARTING_HOURS[operation]) for operation in Operation},
        factors={grade: factors.get(grade.value, STARTING_FACTORS[grade]) for grade in Grade},
    )


def learnt_hours() -> dict[Operation, Lesson]:
    """What finished jobs took for one of each where it is seen, of operations with jobs enough behind."""
    taught = {
        (lesson.operation, lesson.unit): lesson
        for lesson in finished_lessons()
        if lesson.grade == Grade.SEEN.value and lesson.is_enough
    }
    names = {each: (OPERATION_WORDS[each].lower(), OPERATION_UNITS[each].value) for each in Operation}
    return {each: taught[name] for each, name in names.items() if name in taught}
