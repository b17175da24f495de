"""How are minutes turned into hours, and hours into a week's average?"""

from __future__ import annotations

from collections.abc import Iterable
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


def average_week(*, worked: Decimal, made_up: Decimal, weeks: int) -> Decimal:
    """Average hours a week, (A + B) / C: worked in the period, and on the days that stand for excluded ones.

    UK Working Time Regulations 1998 (SI 1998/1833), regulation 4(6).
    """
    if weeks <= 0:
        raise ValueError("An average needs at least a week.")
    return (worked + made_up) / weeks
