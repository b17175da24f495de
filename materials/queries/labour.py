"""How many hours does a job's take-off stand for, by phase and operation?"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from jobs.models import Job
from materials.queries.rates import labour_rates
from materials.queries.takeoff import PhaseRow, job_takeoff
from materials.takeoff.labour import Grade, HoursLine, hours_for
from materials.takeoff.result import Operation, Unit, Work


@dataclass(frozen=True)
class PhaseLabour:
    """The hours of one operation in one phase, from all its items together."""

    phase_id: int
    line: HoursLine


def labour_of_job(job: Job) -> tuple[PhaseLabour, ...]:
    """One line a phase and operation, in the order of phases and operations; in four queries.

    Quantities of the items are added first and multiplied once, so that rounding happens once a line.
    """
    rates = labour_rates()
    takeoff = job_takeoff(job, rates)
    return tuple(
        PhaseLabour(row.phase.pk, line)
        for row in takeoff.phases
        for line in hours_for(_work_of(row), Grade(row.phase.grade), rates)
    )


def _work_of(row: PhaseRow) -> list[Work]:
    amounts: dict[tuple[Operation, Unit], Decimal] = defaultdict(Decimal)
    for item in row.rows:
        for work in item.result.work if item.result else ():
            amounts[work.operation, work.unit] += work.amount
    order = list(Operation)
    found = sorted(amounts.items(), key=lambda each: order.index(each[0][0]))
    return [Work(operation, amount, unit) for (operation, unit), amount in found]
