"""What does a maker's range of hours come to, and how much quicker is the next of the same?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO


@dataclass(frozen=True)
class ThreePoint:
    """The least, the likely and the most: weighted mean (a + 4m + b) / 6, standard deviation (b - a) / 6."""

    least: Decimal
    likely: Decimal
    most: Decimal

    def __post_init__(self) -> None:
        if not self.least <= self.likely <= self.most:
            raise ValueError("The likely figure lies between the least and the most.")

    @property
    def mean(self) -> Decimal:
        """What to reckon with, unrounded."""
        return (self.least + 4 * self.likely + self.most) / 6

    @property
    def deviation(self) -> Decimal:
        """How far off it usually is, unrounded."""
        return (self.most - self.least) / 6


def path_mean(estimates: Sequence[ThreePoint]) -> Decimal:
    """The mean of work done one after the other: the sum of the means."""
    return sum((estimate.mean for estimate in estimates), ZERO)


def path_deviation(estimates: Sequence[ThreePoint]) -> Decimal:
    """The deviation of work done one after the other: the root of the summed variances."""
    return sum((estimate.deviation**2 for estimate in estimates), ZERO).sqrt()


def learning_exponent(rate: float) -> float:
    """ln rate / ln 2: with 0.8, each doubling of the count takes 80 % of the time."""
    if not 0 < rate <= 1:
        raise ValueError("A learning rate is above 0 and at most 1.")
    return math.log(rate) / math.log(2)


def unit_hours(*, first: float, rate: float, unit: int) -> float:
    """Time of the n-th unit by the unit model: first × n^b. Not money, so a float will do."""
    return float(first * unit ** learning_exponent(rate))


def cumulative_average_hours(*, first: float, rate: float, units: int) -> float:
    """Average time of the first n units by Wright's model (1936): first × n^b is the average itself."""
    return float(first * units ** learning_exponent(rate))
