"""Which goods come after the phase that needs them is planned to start?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from django.db.models import F, Q, QuerySet
from django.urls import reverse
from django.utils import timezone

from jobs.job_warnings import JobWarning
from jobs.models import Job, Phase
from materials.enums import OrderState
from materials.models import OrderShare, Supplier
from materials.queries.purchase import SupplierList

OPEN = (OrderState.DRAFT, OrderState.PLACED, OrderState.PART)
TO_COME = Q(line__order__state__in=OPEN, line__received__lt=F("line__quantity"))


def late_phases(shares: QuerySet[OrderShare]) -> Mapping[int, str]:
    """By order, the first phase that starts before the goods for it are expected, in words; one query."""
    late = shares.filter(TO_COME, phase__planned_start__lt=F("line__order__expected_on")).order_by(
        "-phase__planned_start", "-phase__position"
    )
    rows = late.values_list("line__order", "phase__title", "phase__planned_start")
    return {order: starts_on(title, start) for order, title, start in rows}


def late_deliveries(job: Job) -> Iterable[JobWarning]:
    """Orders of the job that come after a phase starts, or have not come when they were expected."""
    shares = OrderShare.objects.filter(TO_COME, line__order__job=job)
    rows = shares.order_by("line__order", "phase__planned_start").values_list(
        "line__order", "line__order__number", "line__order__supplier__name", "line__order__state",
        "line__order__expected_on", "phase__title", "phase__planned_start",
    )  # fmt: skip
    said: dict[int, str] = {}
    for order, number, supplier, state, expected, title, start in rows:
        words = _late(f"Order {number} of {supplier}", state, expected, title, start)
        if words and order not in said:
            said[order] = words
    return [JobWarning(words, _address(order), "See the order") for order, words in said.items()]


def _late(order: str, state: str, expected: date | None, title: str, start: date | None) -> str:
    if expected is None:
        return ""
    if start and start < expected:
        return f"{order} is expected on {expected:%-d %b}, and {starts_on(title, start)}."
    if expected < timezone.localdate() and state != OrderState.DRAFT:
        return f"{order} was expected on {expected:%-d %b} and is not all here."
    return ""


def late_if_ordered(lists: Iterable[SupplierList], today: date) -> Mapping[int, str]:
    """By supplier, the first phase that starts before an order of today would come, in words; two queries.

    Nothing is said of a supplier whose days to delivery are not known.
    """
    wanted = {one.supplier_id: {phase for line in one.lines for phase in line.weights} for one in lists}
    suppliers = Supplier.objects.filter(pk__in=wanted, lead_days__gt=0).values_list("pk", "lead_days")
    comes = {pk: today + timedelta(days=days) for pk, days in suppliers}
    needed = {phase for pk in comes for phase in wanted[pk]}
    planned = Phase.objects.filter(pk__in=needed, planned_start__isnull=False)
    starts = {phase.pk: (phase.planned_start, phase.title) for phase in planned if phase.planned_start}
    said = {}
    for supplier, day in comes.items():
        late = sorted(starts[pk] for pk in wanted[supplier] if pk in starts and starts[pk][0] < day)
        if late:
            start, title = late[0]
            said[supplier] = f"Ordered today it comes about {day:%-d %b}, and {starts_on(title, start)}."
    return said


def starts_on(title: str, start: date | None) -> str:
    """Which phase starts when; only for phases with a planned start."""
    assert start is not None
    return f"{title} starts on {start:%-d %b}"


def _address(order: int) -> str:
    return reverse("materials:order", args=[order])
