"""How long is a week on average?"""

from __future__ import annotations

from decimal import Decimal


def average_week(*, worked: Decimal, made_up: Decimal, weeks: int) -> Decimal:
    """Average hours a week, (A + B) / C: worked in the period, and on the days that stand for excluded ones.

    UK Working Time Regulations 1998 (SI 1998/1833), regulation 4(6).
    """
    if weeks <= 0:
        raise ValueError("An average needs at least a week.")
    return (worked + made_up) / weeks
