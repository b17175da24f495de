"""How long is a stretch of work, which overlap, and which day or week is over-long?

Seconds are what passed between two instants: midnight and a change of the clocks need no rule of their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from itertools import groupby

from jobs.money import round_half_up

MINUTE = 60
HOUR = 3600
DAY = 24 * HOUR
LONG_DAY = 12 * HOUR
WEEK_LIMIT = 48 * HOUR
"""UK Working Time Regulations 1998 (SI 1998/1833), regulation 4: 48 hours a week on average.

Directive 2003/88/EC, article 6 (b), sets the same.
"""
REFERENCE_WEEKS = 17
"""The weeks of that average: regulation 4(3); the directive's article 16 (b) allows up to four months."""

_CLOCK = re.compile(r"(?P<hours>\d{1,2})(?::|h)(?P<minutes>[0-5]\d)(?:m|min)?")
_HOURS = re.compile(r"(?P<hours>\d{1,3}|\d{0,3}[.,]\d{1,4})(?:h|hr|hrs|hour|hours)?")
_MINUTES = re.compile(r"(?P<minutes>\d{1,4})(?:m|min|mins|minutes)")


@dataclass(frozen=True)
class Stretch:
    """One entry: its name for the caller, the day it counts for, its length, and its instants where known."""

    name: int
    on: date
    seconds: int
    start: datetime | None = None
    end: datetime | None = None


def rounded_seconds(seconds: int, step_minutes: int) -> int:
    """To the nearest step, the half of one up; a step of 0 is the whole minute.

    >>> [rounded_seconds(minutes * 60, 15) // 60 for minutes in (7, 8, 22, 23)]
    [0, 15, 15, 30]
    """
    step = MINUTE * (step_minutes or 1)
    return (2 * seconds + step) // (2 * step) * step


def elapsed_seconds(start: datetime, end: datetime) -> int:
    """Seconds that passed between two instants, whatever the clocks on the wall did meanwhile."""
    if start.tzinfo is None or end.tzinfo is None:
        raise ValueError("A start and an end need their time zone.")
    return int(end.timestamp() - start.timestamp())


def read_hours(text: str) -> int:
    """Seconds of a time as makers write it: 7.5, 7,5, 7:20, 7h20, 45 min. Raises ValueError with words.

    >>> [read_hours(text) for text in ("7.5", "7:20", "45 min")]
    [27000, 26400, 2700]
    """
    bare = re.sub(r"\s+", "", text).lower()
    if found := _CLOCK.fullmatch(bare):
        return int(found["hours"]) * HOUR + int(found["minutes"]) * MINUTE
    if found := _MINUTES.fullmatch(bare):
        return int(found["minutes"]) * MINUTE
    found = _HOURS.fullmatch(bare)
    if found is None:
        raise ValueError(f"“{text}” is no length of time: write 7.5, 7:20 or 45 min.")
    return int(round_half_up(Decimal(found["hours"].replace(",", ".")) * HOUR, 0))


def overlapping(stretches: Iterable[Stretch]) -> set[int]:
    """Names of the stretches that share time with another; touching ends share none."""
    timed = sorted(
        (one.start, one.end, one.name) for one in stretches if one.start is not None and one.end is not None
    )
    found: set[int] = set()
    latest: tuple[datetime, int] | None = None
    for start, end, name in timed:
        if latest and start < latest[0] and start < end:
            found |= {name, latest[1]}
        if latest is None or end > latest[0]:
            latest = (end, name)
    return found


def seconds_by_day(stretches: Sequence[Stretch]) -> dict[date, int]:
    """Seconds of each day that has any, in order of the days."""
    ordered = sorted(stretches, key=lambda one: one.on)
    return {on: sum(one.seconds for one in rows) for on, rows in groupby(ordered, key=lambda one: one.on)}


def long_days(stretches: Sequence[Stretch], *, limit: int = LONG_DAY) -> dict[date, int]:
    """The days with more seconds than the limit."""
    return {on: seconds for on, seconds in seconds_by_day(stretches).items() if seconds > limit}
