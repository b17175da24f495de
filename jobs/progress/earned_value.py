"""Is the work done worth what it cost, and is it where the plan says?

Terms and formulas are those of earned value management (ISO 21508, ANSI/EIA-748): BAC budget at completion,
PV planned, EV earned, AC actual. A variance above nothing and an index above 1 are favourable.
An index that cannot be worked out is no number and says why in words; it is never shown as nought.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from jobs.money import ZERO

HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Index:
    """A figure, or None and the reason in words. Unrounded: rounding is for showing only."""

    value: Decimal | None
    why_not: str = ""


class ForecastRule(StrEnum):
    """How the work left is taken to go."""

    COST_INDEX = "cost_index"  # as the work so far: BAC / CPI
    BUDGET_RATE = "budget_rate"  # as budgeted: AC + (BAC - EV)
    COST_AND_SCHEDULE = "cost_and_schedule"  # as so far in cost and pace: AC + (BAC - EV) / (CPI x SPI)


@dataclass(frozen=True)
class EarnedWork:
    """What a phase is budgeted at, how far it should be, how far it is, and what it has cost."""

    budget: Decimal
    planned_fraction: Decimal
    done_fraction: Decimal
    actual: Decimal


@dataclass(frozen=True)
class EarnedValue:
    """BAC, PV, EV and AC of a phase or a job, and what follows from them."""

    budget: Decimal
    planned: Decimal
    earned: Decimal
    actual: Decimal

    @property
    def is_finished(self) -> bool:
        """All of the budgeted work is done."""
        return self.budget > 0 and self.earned >= self.budget

    @property
    def cost_variance(self) -> Decimal:
        """CV = EV - AC."""
        return self.earned - self.actual

    @property
    def schedule_variance(self) -> Index:
        """SV = EV - PV; without a plan by today there is nothing to be ahead of."""
        return Index(self.earned - self.planned) if self.planned else Index(None, "nothing planned yet")

    @property
    def cost_index(self) -> Index:
        """CPI = EV / AC."""
        return _divide(self.earned, self.actual, "no cost yet")

    @property
    def schedule_index(self) -> Index:
        """SPI = EV / PV."""
        return _divide(self.earned, self.planned, "nothing planned yet")

    def forecast(self, rule: ForecastRule) -> Index:
        """EAC by one of three rules; once finished it is the actual cost, whichever rule."""
        left = self.budget - self.earned
        if self.is_finished:
            return Index(self.actual)
        if rule is ForecastRule.BUDGET_RATE:
            return Index(self.actual + left)
        if self.actual == 0 or self.earned == 0:
            return Index(None, "no work done yet" if self.actual else "no cost yet")
        if rule is ForecastRule.COST_INDEX:
            return Index(self.budget * self.actual / self.earned)
        if self.planned == 0:
            return Index(None, "nothing planned yet")
        return Index(self.actual + left * self.actual * self.planned / (self.earned * self.earned))

    def to_complete(self, rule: ForecastRule) -> Index:
        """ETC = EAC - AC."""
        forecast = self.forecast(rule)
        if forecast.value is None:
            return forecast
        return Index(forecast.value - self.actual)

    def variance_at_completion(self, rule: ForecastRule) -> Index:
        """VAC = BAC - EAC."""
        forecast = self.forecast(rule)
        if forecast.value is None:
            return forecast
        return Index(self.budget - forecast.value)

    @property
    def index_to_meet_budget(self) -> Index:
        """TCPI to the budget: (BAC - EV) / (BAC - AC), how well the work left must go."""
        if self.is_finished:
            return Index(None, "finished")
        if self.budget == 0:
            return Index(None, "no budget")
        if self.actual >= self.budget:
            return Index(None, "cannot be met")
        return Index((self.budget - self.earned) / (self.budget - self.actual))

    def index_to_meet_forecast(self, rule: ForecastRule) -> Index:
        """TCPI to the forecast: (BAC - EV) / (EAC - AC)."""
        if self.is_finished:
            return Index(None, "finished")
        left = self.to_complete(rule)
        if left.value is None:
            return left
        return _divide(self.budget - self.earned, left.value, "nothing left to spend")


def earn(work: Sequence[EarnedWork]) -> EarnedValue:
    """Add up phases: each earns its budget in the fraction that its maker says is done."""
    return EarnedValue(
        budget=sum((phase.budget for phase in work), ZERO),
        planned=sum((phase.budget * phase.planned_fraction for phase in work), ZERO),
        earned=sum((phase.budget * phase.done_fraction for phase in work), ZERO),
        actual=sum((phase.actual for phase in work), ZERO),
    )


def _divide(dividend: Decimal, divisor: Decimal, why_not: str) -> Index:
    return Index(dividend / divisor) if divisor else Index(None, why_not)
