"""How does a job stand against what was agreed, in hours and money?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils import timezone

from jobs.charts.weeks import WeekChart, week_chart
from jobs.exports import Cell, Table
from jobs.models import Job, Person, Phase
from jobs.money import ZERO
from jobs.progress import (
    Basis,
    EarnedValue,
    EarnedWork,
    ForecastRule,
    Index,
    JobProgress,
    PhaseProgress,
    earn,
    measure_job,
    planned_fraction,
)
from jobs.queries.figures import phase_rows
from jobs.queries.job_page import Contract, alert_share, contract_of
from jobs.queries.jobs import get_job_for
from jobs.queries.weeks import job_weeks
from jobs.workshop import current_workshop

HUNDRED = Decimal(100)
BASIS_WORDS = {
    Basis.DONE: "done: what was spent, and is on order",
    Basis.ENTERED: "the hours still to go that were entered",
    Basis.RATE_SO_FAR: "the rate so far",
    Basis.BUDGET: "the budget",
}


@dataclass(frozen=True)
class Row:
    """A phase, or all of them, and in words what its forecast rests on."""

    title: str
    measured: PhaseProgress
    basis: str
    phase: Phase | None = None


@dataclass(frozen=True)
class Margin:
    """Price less cost, before overhead: as agreed, and as it will end by the forecast."""

    price: Decimal
    agreed: Decimal
    forecast: Decimal

    @property
    def agreed_percent(self) -> Decimal | None:
        """On the price."""
        return HUNDRED * self.agreed / self.price if self.price else None

    @property
    def forecast_percent(self) -> Decimal | None:
        """On the price."""
        return HUNDRED * self.forecast / self.price if self.price else None


@dataclass(frozen=True)
class Measure:
    """One figure of earned value: its sign, what it says in plain words, how to write it."""

    sign: str
    words: str
    figure: Index
    is_index: bool = False
    is_amiss: bool = False


@dataclass(frozen=True)
class ProgressPage:
    """The sheet of figures of one job."""

    job: Job
    rows: Sequence[Row]
    total: Row
    contract: Contract | None
    margin: Margin | None
    measures: Sequence[Measure]
    chart: WeekChart | None
    alert: Decimal | None
    sees_prices: bool


def progress_page(person: Person, pk: int) -> ProgressPage:
    """The figures, in a fixed number of queries; in hours alone for those who see no prices."""
    job, today, sees = get_job_for(person, pk), timezone.localdate(), person.sees_prices
    phases = list(job.phases.order_by("position", "pk"))
    progress = _measured(job, phases)
    contract = contract_of(job) if sees else None
    weeks = job_weeks(job, phases, progress.phases, today=today, in_money=sees)
    return ProgressPage(
        job=job,
        rows=[
            Row(phase.title, measured, BASIS_WORDS[measured.basis], phase)
            for phase, measured in zip(phases, progress.phases, strict=True)
        ],
        total=Row("All phases", progress.total, BASIS_WORDS[progress.total.basis]),
        contract=contract,
        margin=_margin(contract, progress.total),
        measures=measures(earned_value(phases, progress, today=today, in_money=sees)),
        chart=week_chart(weeks, today=today),
        alert=alert_share(progress.total, in_money=sees),
        sees_prices=sees,
    )


def progress_table(shown: ProgressPage) -> Table:
    """The same figures as rows for a file."""
    lines = [*shown.rows, shown.total]
    heads: list[str] = _hour_heads()
    rows: list[list[Cell]] = [[line.title, *_hour_cells(line.measured)] for line in lines]
    if shown.sees_prices:
        heads += _money_heads()
        rows = [[*row, *_money_cells(line.measured)] for row, line in zip(rows, lines, strict=True)]
    return Table(f"progress {shown.job.number}", heads, rows)


def earned_value(
    phases: Sequence[Phase], progress: JobProgress, *, today: date, in_money: bool
) -> EarnedValue:
    """Planned, earned and actual of the job today, in cost or in hours."""
    return earn(
        [
            EarnedWork(
                budget=measured.row.revised.cost if in_money else measured.row.revised.hours,
                planned_fraction=planned_fraction(
                    start=phase.planned_start, days=Decimal(phase.planned_days), on=today
                ),
                done_fraction=(measured.row.percent_done or ZERO) / HUNDRED,
                actual=measured.row.actual.cost if in_money else measured.row.actual.hours,
            )
            for phase, measured in zip(phases, progress.phases, strict=True)
        ]
    )


def measures(value: EarnedValue) -> list[Measure]:
    """The figures of earned value in the order in which they follow from each other."""
    rule = ForecastRule.COST_INDEX
    pace = ForecastRule.COST_AND_SCHEDULE
    return [
        Measure("BAC", "budget at completion", Index(value.budget)),
        Measure("PV", "planned by today", Index(value.planned)),
        Measure("EV", "earned: the budget of the work done", Index(value.earned)),
        Measure("AC", "actual cost of it", Index(value.actual)),
        _signed("CV", "cost variance, EV − AC", Index(value.cost_variance)),
        _signed("SV", "schedule variance, EV − PV", value.schedule_variance),
        _index("CPI", "cost performance, EV ÷ AC", value.cost_index),
        _index("SPI", "schedule performance, EV ÷ PV", value.schedule_index),
        Measure("EAC", "forecast if the rest goes as so far, BAC ÷ CPI", value.forecast(rule)),
        Measure("EAC", "forecast if the rest goes as budgeted", value.forecast(ForecastRule.BUDGET_RATE)),
        Measure("EAC", "forecast by cost and pace so far", value.forecast(pace)),
        Measure("ETC", "still to come, EAC − AC", value.to_complete(rule)),
        _signed("VAC", "variance at completion, BAC − EAC", value.variance_at_completion(rule)),
        Measure("TCPI", "how well the rest must go to meet the budget", value.index_to_meet_budget, True),
        Measure(
            "TCPI",
            "how well it must go to meet the forecast by cost and pace",
            value.index_to_meet_forecast(pace),
            True,
        ),
    ]


def _signed(sign: str, words: str, figure: Index) -> Measure:
    return Measure(sign, words, figure, is_amiss=figure.value is not None and figure.value < 0)


def _index(sign: str, words: str, figure: Index) -> Measure:
    return Measure(sign, words, figure, True, figure.value is not None and figure.value < 1)


def _measured(job: Job, phases: Sequence[Phase]) -> JobProgress:
    currency = current_workshop().currency
    rows = phase_rows(phases, currency=currency)
    return measure_job([rows[phase.pk] for phase in phases], currency=currency, finished=job.is_closed)


def _margin(contract: Contract | None, total: PhaseProgress) -> Margin | None:
    if contract is None:
        return None
    price = contract.revised
    return Margin(price, price - total.row.revised.cost, price - total.forecast.cost)


def _hour_heads() -> list[str]:
    names = ["quoted", "agreed changes", "revised", "actual", "to complete", "forecast", "variance"]
    return ["Phase", "Done %", *(f"Hours {name}" for name in names)]


def _hour_cells(measured: PhaseProgress) -> list[Cell]:
    row = measured.row
    return [
        row.percent_done,
        row.original.hours,
        row.changes.hours,
        row.revised.hours,
        row.actual.hours,
        measured.to_complete.hours,
        measured.forecast.hours,
        measured.variance.hours,
    ]


def _money_heads() -> list[str]:
    names = [
        "quoted",
        "agreed changes",
        "revised",
        "committed",
        "actual",
        "to complete",
        "forecast",
        "variance",
    ]
    return [f"Cost {name}" for name in names]


def _money_cells(measured: PhaseProgress) -> list[Cell]:
    row = measured.row
    return [
        row.original.cost,
        row.changes.cost,
        row.revised.cost,
        row.committed.cost,
        row.actual.cost,
        measured.to_complete.cost,
        measured.forecast.cost,
        measured.variance.cost,
    ]
