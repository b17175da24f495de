"""Set the workshop's own hours by operation and grade of finish."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from django.db import transaction

from materials.models import GradeFactor, OperationRate
from materials.takeoff.labour import STARTING_FACTORS, STARTING_HOURS, Grade
from materials.takeoff.result import Operation


@transaction.atomic
def set_rates(*, hours: Mapping[Operation, Decimal], factors: Mapping[Grade, Decimal]) -> None:
    """The workshop reckons by these from now on; what is left out, or is the starting figure, is not kept.

    Hours already in a quote stay as they are until they are brought in again.
    """
    OperationRate.objects.all().delete()
    GradeFactor.objects.all().delete()
    OperationRate.objects.bulk_create(
        OperationRate(operation=operation.value, hours_each=each)
        for operation, each in hours.items()
        if each != STARTING_HOURS[operation]
    )
    GradeFactor.objects.bulk_create(
        GradeFactor(grade=grade.value, factor=factor)
        for grade, factor in factors.items()
        if factor != STARTING_FACTORS[grade]
    )
