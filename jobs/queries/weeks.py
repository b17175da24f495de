"""How did a job go, week by week: planned, earned and actual?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Sum

from jobs.charts.weeks import Week
from jobs.models import CostEntry, DoneMark, Job, Phase, TimeEntry
from jobs.money import ZERO
from jobs.progress import PhaseProgress, planned_fraction
from jobs.queries.figures import COUNTED, SECONDS

WEEK = timedelta(days=7)
MOST_POINTS = 60
Dated = list[tuple[date, Decimal]]


def job_weeks(
    job: Job, phases: Sequence[Phase], measured: Sequence[PhaseProgress], *, today: date, in_money: bool
) -> list[Week]:
    """Weeks from the first plan or work to the last, or to this one: cumulative hours, or cost.

    Planned follows the phases' start and days; earned is the budget of what was said to be done by then; both
    use the budget as it is now. Queries: hours, what was said of the phases, and costs where money is asked.
    """
    spent = _spent(job, in_money=in_money)
    marks = list(DoneMark.objects.filter(phase__job=job).values_list("phase", "on_date", "percent"))
    worth = {phase.pk: _worth(row, in_money) for phase, row in zip(phases, measured, strict=True)}
    ends = _week_ends(phases, [day for day, _ in spent] + [day for _, day, _ in marks], today)
    this_week = _sunday(today)
    return [
        Week(
            end,
            _planned(phases, worth, end),
            _earned(marks, worth, end) if end <= this_week else None,
            _total(spent, end) if end <= this_week else None,
        )
        for end in ends
    ]


def _worth(row: PhaseProgress, in_money: bool) -> Decimal:
    return row.row.revised.cost if in_money else row.row.revised.hours


def _spent(job: Job, *, in_money: bool) -> Dated:
    worked = (
        TimeEntry.objects.filter(COUNTED, phase__job=job)
        .order_by()
        .values_list("on_date", "cost_rate")
        .annotate(Sum("seconds"))
    )
    if not in_money:
        return [(day, seconds / SECONDS) for day, _, seconds in worked]
    costs = CostEntry.objects.filter(phase__job=job).order_by().values_list("on_date").annotate(Sum("net"))
    return [(day, seconds * rate / SECONDS) for day, rate, seconds in worked] + list(costs)


def _week_ends(phases: Sequence[Phase], days: Sequence[date], today: date) -> list[date]:
    starts = [phase.planned_start for phase in phases if phase.planned_start]
    ends = [_planned_end(phase) for phase in phases if phase.planned_start]
    if not starts and not days:
        return []
    first, last = _sunday(min([*starts, *days])), _sunday(max([*ends, *days]))
    if any(day <= today for day in [*starts, *days]) and days:
        last = max(last, min(_sunday(today), _sunday(max(days)) + WEEK))
    count = (last - first).days // 7 + 1
    every = -(-count // MOST_POINTS)
    return [first - WEEK + place * WEEK for place in range(0, count + every, every)]


def _planned_end(phase: Phase) -> date:
    """About when it ends: five working days are a week."""
    assert phase.planned_start is not None
    return phase.planned_start + timedelta(days=phase.planned_days * 7 // 5)


def _sunday(day: date) -> date:
    return day + timedelta(days=6 - day.weekday())


def _planned(phases: Sequence[Phase], worth: dict[int, Decimal], end: date) -> Decimal:
    return sum(
        (
            worth[phase.pk]
            * planned_fraction(start=phase.planned_start, days=Decimal(phase.planned_days), on=end)
            for phase in phases
        ),
        ZERO,
    )


def _earned(marks: Sequence[tuple[int, date, Decimal]], worth: dict[int, Decimal], end: date) -> Decimal:
    latest = {phase: percent for phase, day, percent in marks if day <= end}
    return sum((worth.get(phase, ZERO) * percent / 100 for phase, percent in latest.items()), ZERO)


def _total(spent: Dated, end: date) -> Decimal:
    return sum((amount for day, amount in spent if day <= end), ZERO)
