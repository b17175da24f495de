"""How are minutes turned into hours, and hours into a week's average?"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from decimal import Decimal

from jobs.money import round_half_up

HOUR = Decimal(60)
QUARTER = 15


def hours_from_minutes(minutes: Iterable[int]) -> Decimal:
    """Hours to a hundredth, half up. The minutes are added up first: five times 20 is 1.67, not 1.65.

    >>> hours_from_minutes([20] * 5)
    Decimal('1.67')
    """
    return round_half_up(sum(minutes) / HOUR, 2)


def nearest_quarter(minutes: int) -> int:
    """Minutes to the nearest quarter of an hour, the half of one up."""
    return QUARTER * int(round_half_up(Decimal(minutes) / QUARTER, 0))


def elapsed_minutes(start: datetime, end: datetime) -> int:
    """Whole minutes that passed between two instants, over midnight and a change of the clocks alike."""
    if start.tzinfo is None or end.tzinfo is None:
        raise ValueError("A start and an end need their time zone.")
    if end < start:
        raise ValueError("The end is before the start.")
    return (end.timestamp() - start.timestamp()).__floor__() // int(timedelta(minutes=1).total_seconds())


def average_week(*, worked: Decimal, made_up: Decimal, weeks: int) -> Decimal:
    """Average hours a week, (A + B) / C: worked in the period, and on the days that stand for excluded ones.

    UK Working Time Regulations 1998 (SI 1998/1833), regulation 4(6).
    """
    if weeks <= 0:
        raise ValueError("An average needs at least a week.")
    return (worked + made_up) / weeks


def chargeable_hours(
    *, days: int, leave: int, sick: int, hours_a_day: Decimal, percent_on_jobs: Decimal
) -> Decimal:
    """Hours a year that can be charged to jobs."""
    return (days - leave - sick) * hours_a_day * percent_on_jobs / 100
