"""Where do the dates of a job go when the work gets longer?

A phase that takes more days is that much longer, and each phase planned to start after its last day starts so
many working days (Monday to Friday) later. A phase that runs beside it, or has begun, keeps its start. Days
left out shorten their phase; nothing is brought forward, since others have been told the dates that stand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from jobs.progress.capacity import planned_days
from jobs.progress.plan import WORKING_DAYS_A_WEEK, working_days


@dataclass(frozen=True)
class Stretch:
    """A phase as it is planned: so many working days from a day on; no day where none is planned yet."""

    key: int
    start: date | None
    days: int
    begun: bool = False

    @property
    def last(self) -> date | None:
        """The last working day; the day of the start where no days are planned."""
        if self.start is None:
            return None
        return (planned_days(self.start, self.days) or [self.start])[-1]


@dataclass(frozen=True)
class Moved:
    """A phase whose dates differ afterwards."""

    before: Stretch
    after: Stretch


@dataclass(frozen=True)
class MovedPlan:
    """What moves, and when the job ends before and after; None where no date is planned at all."""

    moved: tuple[Moved, ...]
    ends_before: date | None
    ends_after: date | None


def move_plan(stretches: Sequence[Stretch], added: Mapping[int, int], ends_on: date | None) -> MovedPlan:
    """The plan with so many days added to (or left out of) phases, by their keys.

    The job's end moves by as many working days as the last day of its plan, and by the days of phases that
    have no place in the plan. Without an end of its own the job ends with its plan.
    """
    longer = {key: max(0, days) for key, days in added.items()}
    later = _shifts(stretches, longer)
    after = {
        each.key: replace(
            each,
            start=None if each.start is None else _start_later(each.start, later[each.key]),
            days=max(0, each.days + added.get(each.key, 0)),
        )
        for each in stretches
    }
    last_before = max((each.last for each in stretches if each.last), default=None)
    last_after = max((each.last for each in after.values() if each.last), default=None)
    unplaced = sum(longer.get(each.key, 0) for each in stretches if each.start is None)
    growth = _gained(last_before, last_after) + unplaced
    ends_before = ends_on or last_before
    return MovedPlan(
        moved=tuple(Moved(each, after[each.key]) for each in stretches if each != after[each.key]),
        ends_before=ends_before,
        ends_after=None if ends_before is None else days_later(ends_before, growth),
    )


def days_later(day: date, count: int) -> date:
    """So many working days later; from a weekend the first of them is the Monday.

    >>> days_later(date(2026, 6, 5), 1), days_later(date(2026, 6, 6), 0)
    (datetime.date(2026, 6, 8), datetime.date(2026, 6, 6))
    """
    while count > 0:
        day += timedelta(days=1)
        count -= day.weekday() < WORKING_DAYS_A_WEEK
    return day


def _start_later(day: date, count: int) -> date:
    """A start so many working days later; work planned from a weekend on begins on its Monday."""
    if not count:
        return day
    return days_later(planned_days(day, 1)[0], count)


def _shifts(stretches: Sequence[Stretch], longer: Mapping[int, int]) -> dict[int, int]:
    """By how many working days each phase starts later: as the latest of those that end before it."""
    shifts = dict.fromkeys((each.key for each in stretches), 0)
    placed = sorted((each for each in stretches if each.start), key=lambda each: (each.start, each.key))
    for at, each in enumerate(placed):
        pushed = [
            shifts[other.key] + longer.get(other.key, 0)
            for other in placed[:at]
            if other.last and each.start and other.last < each.start
        ]
        shifts[each.key] = 0 if each.begun else max(pushed, default=0)
    return shifts


def _gained(before: date | None, after: date | None) -> int:
    if before is None or after is None or after <= before:
        return 0
    return int(working_days(before + timedelta(days=1), after))
