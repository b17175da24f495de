"""What was agreed, what is spent, and where will each phase end?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cached_property

from jobs.money import ZERO, round_half_up, round_money

HUNDRED = Decimal(100)
HOUR_PLACES = 2


@dataclass(frozen=True)
class Amounts:
    """Hours, what the hours cost, and all other cost: materials, hire, subcontract, travel."""

    hours: Decimal = ZERO
    labour: Decimal = ZERO
    other: Decimal = ZERO

    @property
    def cost(self) -> Decimal:
        """All money."""
        return self.labour + self.other

    def __add__(self, more: Amounts) -> Amounts:
        return Amounts(self.hours + more.hours, self.labour + more.labour, self.other + more.other)

    def __sub__(self, less: Amounts) -> Amounts:
        return Amounts(self.hours - less.hours, self.labour - less.labour, self.other - less.other)

    def at_least(self, floor: Amounts) -> Amounts:
        """The larger of the two, figure by figure."""
        return Amounts(
            max(self.hours, floor.hours), max(self.labour, floor.labour), max(self.other, floor.other)
        )


class Basis(StrEnum):
    """What a forecast rests on."""

    DONE = "done"
    ENTERED = "entered"
    RATE_SO_FAR = "rate_so_far"
    BUDGET = "budget"


@dataclass(frozen=True)
class PhaseRow:
    """What is known of a phase. Percent done and cost to complete are the maker's word; None is not said."""

    key: str
    title: str
    original: Amounts = Amounts()
    changes: Amounts = Amounts()
    committed: Amounts = Amounts()
    actual: Amounts = Amounts()
    percent_done: Decimal | None = None
    to_complete: Amounts | None = None

    def __post_init__(self) -> None:
        if self.percent_done is not None and not 0 <= self.percent_done <= HUNDRED:
            raise ValueError("Percent done is between 0 and 100.")

    @cached_property
    def revised(self) -> Amounts:
        """The original budget with the agreed changes."""
        return self.original + self.changes


@dataclass(frozen=True)
class PhaseProgress:
    """A phase measured. Variances are revised less forecast: above nothing is under budget."""

    row: PhaseRow
    forecast: Amounts
    basis: Basis

    @property
    def to_complete(self) -> Amounts:
        """What is still to be spent beyond the actual, commitments included."""
        return self.forecast - self.row.actual

    @property
    def variance(self) -> Amounts:
        """Revised budget less forecast, figure by figure."""
        return self.row.revised - self.forecast

    @property
    def is_over(self) -> bool:
        """Whether hours or cost will end over the revised budget."""
        return self.variance.hours < 0 or self.variance.cost < 0

    @property
    def earned(self) -> Amounts:
        """The revised budget of the work done."""
        done = (self.row.percent_done or ZERO) / HUNDRED
        revised = self.row.revised
        return Amounts(revised.hours * done, revised.labour * done, revised.other * done)


@dataclass(frozen=True)
class JobProgress:
    """All phases of a job and their sum."""

    phases: tuple[PhaseProgress, ...]
    total: PhaseProgress


def measure(row: PhaseRow, *, currency: str, finished: bool = False) -> PhaseProgress:
    """Where a phase will end, hours to a hundredth and money to the minor unit, half up.

    - Of a finished job, whatever was said of the phase: actual, and what is still on order.
    - The maker's own cost to complete stands before any other rule: actual plus that.
    - Done (100 %): actual, and what is still on order.
    - Under way: hours and their cost at the rate so far, actual ÷ percent done; other cost is bought ahead
      of the work, so it ends at its budget, or at actual and on order where that is already more.
    - Not begun, or no percent given: at budget, or at actual and on order where that is already more.
    """
    spoken_for = row.actual + row.committed
    if finished:
        return PhaseProgress(row, spoken_for, Basis.DONE)
    if row.to_complete is not None:
        return PhaseProgress(row, row.actual + row.to_complete, Basis.ENTERED)
    if row.percent_done == HUNDRED:
        return PhaseProgress(row, spoken_for, Basis.DONE)
    at_budget = row.revised.at_least(spoken_for)
    if row.percent_done and row.actual.hours:
        share = row.percent_done / HUNDRED
        at_rate = Amounts(
            round_half_up(row.actual.hours / share, HOUR_PLACES),
            round_money(row.actual.labour / share, currency),
            at_budget.other,
        )
        return PhaseProgress(row, at_rate, Basis.RATE_SO_FAR)
    return PhaseProgress(row, at_budget, Basis.BUDGET)


def cost_of_hours_left(row: PhaseRow, hours_left: Decimal, *, currency: str) -> Amounts | None:
    """What is to come, from the maker's own word on the hours still to go.

    An hour costs what it has cost on this phase so far, or else what it was budgeted at. Other cost still to
    come is the rest of its budget, or what is on order where that is more. None where no hour has a price.
    """
    known = row.actual if row.actual.hours > 0 else row.revised
    if known.hours <= 0:
        return None
    labour = round_money(known.labour * hours_left / known.hours, currency)
    other = max(row.revised.other - row.actual.other, row.committed.other, ZERO)
    return Amounts(hours_left, labour, other)


def measure_job(rows: Sequence[PhaseRow], *, currency: str, finished: bool = False) -> JobProgress:
    """Measure every phase and add them up. The job's percent done is that of its phases by revised hours.

    Where no phase has hours it is by revised cost; where nothing is budgeted it is not said.
    """
    phases = tuple(measure(row, currency=currency, finished=finished) for row in rows)
    row = PhaseRow(
        key="",
        title="",
        original=_sum([row.original for row in rows]),
        changes=_sum([row.changes for row in rows]),
        committed=_sum([row.committed for row in rows]),
        actual=_sum([row.actual for row in rows]),
        percent_done=_percent_of_job(phases),
    )
    forecast = _sum([phase.forecast for phase in phases])
    return JobProgress(phases, PhaseProgress(row, forecast, _shared_basis(phases)))


def _sum(amounts: Sequence[Amounts]) -> Amounts:
    return Amounts(
        sum((one.hours for one in amounts), ZERO),
        sum((one.labour for one in amounts), ZERO),
        sum((one.other for one in amounts), ZERO),
    )


def _percent_of_job(phases: Sequence[PhaseProgress]) -> Decimal | None:
    revised, earned = _sum([phase.row.revised for phase in phases]), _sum([phase.earned for phase in phases])
    whole, done = (revised.hours, earned.hours) if revised.hours > 0 else (revised.cost, earned.cost)
    if whole <= 0:
        return None
    return min(HUNDRED, max(ZERO, HUNDRED * done / whole))


def _shared_basis(phases: Sequence[PhaseProgress]) -> Basis:
    """The least certain basis among the phases speaks for the job."""
    found = {phase.basis for phase in phases}
    return next((basis for basis in reversed(Basis) if basis in found), Basis.BUDGET)
