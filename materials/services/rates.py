"""Set the workshop's own hours by operation and grade of finish."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from django.db import transaction

from jobs.history import record
from jobs.models import Person
from jobs.workshop import current_workshop
from materials.models import GradeFactor, OperationRate
from materials.takeoff.labour import STARTING_FACTORS, STARTING_HOURS, Grade
from materials.takeoff.result import Operation


@transaction.atomic
def set_rates(
    *, hours: Mapping[Operation, Decimal], factors: Mapping[Grade, Decimal], person: Person
) -> None:
    """The workshop reckons by these from now on; what is left out, or is the starting figure, is not kept.

    Hours already in a quote stay as they are until they are brought in again.
    """
    before = _rates()
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
    after = _rates()
    if before != after:
        record(person=person, thing=current_workshop(), action="set the hours", before=before, after=after)


def _rates() -> dict[str, str]:
    """The workshop's own figures by their names; where there is none, the starting one holds."""
    hours = {rate.operation: f"{rate.hours_each.normalize():f} h" for rate in OperationRate.objects.all()}
    factors = {one.grade: f"{one.factor.normalize():f} of the hours" for one in GradeFactor.objects.all()}
    return hours | factors
