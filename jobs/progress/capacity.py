"""Which weeks are full? Hours still to be worked, spread over the days they are planned for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from jobs.money import ZERO
from jobs.progress.plan import WORKING_DAYS_A_WEEK

WEEK = timedelta(days=7)


@dataclass(frozen=True)
class Booking:
    """Hours still to be worked, planned from a day on for so many working days; no day is not planned yet."""

    hours: Decimal
    start: date | None
    days: int


def monday(day: date) -> date:
    """The first day of its week."""
    return day - timedelta(days=day.weekday())


def spread(bookings: Sequence[Booking], *, today: date, weeks: int) -> list[Decimal]:
    """Hours booked in this week and the ones that follow, unrounded.

    Hours are spread evenly over the working days (Monday to Friday) still left of the plan. Where the plan is
    over, or has no days, all of it falls on its first day, or on today if that is past. What is not planned,
    and what lies beyond the last week, is left out.
    """
    booked = [ZERO] * weeks
    for booking in bookings:
        for week, hours in _by_week(booking, today):
            if week < weeks:
                booked[week] += hours
    return booked


def _by_week(booking: Booking, today: date) -> list[tuple[int, Decimal]]:
    if booking.start is None or booking.hours <= 0:
        return []
    first = max(booking.start, today)
    days = [day for day in planned_days(booking.start, booking.days) if day >= today] or [first]
    share = booking.hours / len(days)
    weeks = [(monday(day) - monday(today)).days // 7 for day in days]
    return [(week, share * weeks.count(week)) for week in sorted(set(weeks))]


def planned_days(start: date, days: int) -> list[date]:
    """So many working days (Monday to Friday) from a day on."""
    found: list[date] = []
    day = start
    while len(found) < days:
        if day.weekday() < WORKING_DAYS_A_WEEK:
            found.append(day)
        day += timedelta(days=1)
    return found
