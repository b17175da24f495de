"""How much of a phase should be done by a day, by its planned start and days?"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

WORKING_DAYS_A_WEEK = 5


def planned_fraction(*, start: date | None, days: Decimal, on: date) -> Decimal:
    """Working days (Monday to Friday) gone from the start to the end of the day, over the days planned.

    Nothing before the start or without one; never more than all of it.
    """
    if start is None or on < start:
        return Decimal(0)
    if days <= 0:
        return Decimal(1)
    return min(Decimal(1), working_days(start, on) / days)


def working_days(first: date, last: date) -> Decimal:
    """Working days from the first day to the last, both counted."""
    weeks, rest = divmod((last - first).days + 1, 7)
    odd_days = (first + timedelta(days=offset) for offset in range(rest))
    odd = sum(1 for day in odd_days if day.weekday() < WORKING_DAYS_A_WEEK)
    return Decimal(weeks * WORKING_DAYS_A_WEEK + odd)
