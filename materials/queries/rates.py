"""By which hours does this workshop reckon?"""

from __future__ import annotations

from materials.models import GradeFactor, OperationRate
from materials.takeoff.labour import STARTING_FACTORS, STARTING_HOURS, Grade, Rates
from materials.takeoff.result import Operation


def labour_rates() -> Rates:
    """The workshop's own rates over the starting ones, in two queries."""
    own = dict(OperationRate.objects.values_list("operation", "hours_each"))
    factors = dict(GradeFactor.objects.values_list("grade", "factor"))
    return Rates(
        hours={operation: own.get(operation.value, STARTING_HOURS[operation]) for operation in Operation},
        factors={grade: factors.get(grade.value, STARTING_FACTORS[grade]) for grade in Grade},
    )
