"""What do finished jobs teach about hours? Actual hours a unit by operation and finish grade.

A phase is booked as a whole, so its actual hours are shared among its operations in proportion to their
agreed hours. One job is one observation, whatever its lines. Hours a unit are no money, so floats will do.
"""

from __future__ import annotations

import random
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any

from jobs.money import round_half_up

FEWEST_JOBS = 3
DRAWS = 2000


@dataclass(frozen=True)
class AgreedWork:
    """A line of labour as it was agreed: so much of an operation at a grade, in a phase of a job.

    Without an operation it is hours agreed in another way (or, below nothing, saved by it): they have their
    share of the phase's hours, and teach nothing themselves.
    """

    job: str
    phase: int
    operation: str
    unit: str
    grade: str
    quantity: Decimal
    hours: Decimal


@dataclass(frozen=True)
class Lesson:
    """An operation at a grade: what an hour's estimate rests on.

    Quartiles by linear interpolation (type 7 of Hyndman and Fan, 1996). `is_enough` says whether there are
    jobs enough to suggest the median; with fewer the figures are shown and nothing is suggested.
    """

    operation: str
    unit: str
    grade: str
    jobs: int
    agreed: float
    low: float
    median: float
    high: float

    @property
    def is_enough(self) -> bool:
        """At least three jobs."""
        return self.jobs >= FEWEST_JOBS

    @property
    def ratio(self) -> float:
        """The median against what was agreed: 1.2 took a fifth longer."""
        return self.median / self.agreed if self.agreed else 0.0


@dataclass(frozen=True)
class Outlook:
    """Labour of new work by what past jobs took: low, likely and high, and how many jobs stand behind."""

    low: Decimal
    likely: Decimal
    high: Decimal
    jobs: int


def lessons(work: Sequence[AgreedWork], actual: dict[int, Decimal]) -> list[Lesson]:
    """Hours a unit of every operation, grade and unit, from the agreed lines and the phases' actual hours.

    Phases without actual or agreed hours teach nothing and are left out, as are lines without quantity or
    hours. A phase that took what was agreed teaches what was agreed, whatever its lines.
    """
    import pandas as pd  # slow import

    agreed = _agreed_by_phase(work)
    rows = [
        line for line in work if _teaches(line) and agreed[line.phase] > 0 and actual.get(line.phase, 0) > 0
    ]
    if not rows:
        return []
    table = pd.DataFrame(
        {
            "job": [line.job for line in rows],
            "operation": [line.operation.strip().lower() for line in rows],
            "unit": [line.unit for line in rows],
            "grade": [line.grade for line in rows],
            "quantity": [float(line.quantity) for line in rows],
            "agreed": [float(line.hours) for line in rows],
            "taken": [float(actual[line.phase] * line.hours / agreed[line.phase]) for line in rows],
        }
    )
    keys = ["operation", "unit", "grade"]
    jobs = table.groupby([*keys, "job"], as_index=False)[["quantity", "agreed", "taken"]].sum()
    jobs["each"] = jobs["taken"] / jobs["quantity"]
    jobs["agreed_each"] = jobs["agreed"] / jobs["quantity"]
    return [_lesson(key, group) for key, group in jobs.groupby(keys)]


def outlook(hours: Decimal, ratios: Sequence[float], *, seed: int = 1) -> Outlook | None:
    """Where labour of so many hours may end, by how past jobs ended against theirs; None with too few.

    The middle of eight in ten: tenth, fiftieth and ninetieth hundredth of draws from the past ratios.
    """
    if len(ratios) < FEWEST_JOBS:
        return None
    ends = _draws(tuple(ratios), seed)
    low, likely, high = (
        round_half_up(hours * Decimal(str(ends[len(ends) * place // 100])), 1) for place in (10, 50, 90)
    )
    return Outlook(low, likely, high, len(ratios))


def chance_price_holds(ratios: Sequence[float], most: float, *, seed: int = 1) -> float | None:
    """The share of draws whose labour ends within `most` times the agreed hours; None with too few jobs.

    `most` is the agreed labour and the contingency together, over the agreed labour.
    """
    if len(ratios) < FEWEST_JOBS:
        return None
    draws = _draws(tuple(ratios), seed)
    return bisect_right(draws, most) / len(draws)


def _agreed_by_phase(work: Sequence[AgreedWork]) -> dict[int, Decimal]:
    agreed: dict[int, Decimal] = defaultdict(Decimal)
    for line in work:
        agreed[line.phase] += line.hours
    return agreed


def _teaches(line: AgreedWork) -> bool:
    return line.operation != "" and line.quantity > 0 and line.hours > 0


def _lesson(key: tuple[str, str, str], group: Any) -> Lesson:
    low, median, high = (float(value) for value in group["each"].quantile([0.25, 0.5, 0.75]))
    operation, unit, grade = key
    return Lesson(operation, unit, grade, len(group), float(group["agreed_each"].median()), low, median, high)


@lru_cache(maxsize=8)
def _draws(ratios: tuple[float, ...], seed: int) -> tuple[float, ...]:
    """A smoothed bootstrap, in order: two past jobs drawn, and a point between them."""
    chance = random.Random(seed)
    drawn = []
    for _ in range(DRAWS):
        first, second, share = chance.choice(ratios), chance.choice(ratios), chance.random()
        drawn.append(first + (second - first) * share)
    return tuple(sorted(drawn))
