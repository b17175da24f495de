"""The job as one sheet: the contract at the head, then its phases as ruled rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Sum
from django.urls import reverse
from django.utils import timezone

from jobs.charts.bars import PhaseBar, phase_bar
from jobs.charts.scale import axis_for
from jobs.charts.weeks import WeekChart, week_chart
from jobs.enums import (
    JOB_STEPS,
    OPEN_FOR_HOURS,
    BudgetSource,
    Caution,
    ChangeState,
    JobState,
    Role,
)
from jobs.job_links import Shown, links_for
from jobs.job_warnings import JobWarning, warnings_of
from jobs.models import BudgetEntry, Change, Job, Person, Phase, TimeEntry
from jobs.money import ZERO
from jobs.progress import PhaseProgress, measure_job
from jobs.queries.figures import COUNTED, SECONDS, phase_rows
from jobs.queries.jobs import get_job_for
from jobs.queries.notes import BenchNotes, notes_of
from jobs.queries.weeks import job_weeks
from jobs.templatetags.figures import hours
from jobs.workshop import current_workshop

BAR_LENGTH = 240
HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Contract:
    """What the client has said yes to, without tax."""

    agreed: Decimal
    changes: Decimal
    change_count: int

    @property
    def revised(self) -> Decimal:
        """The contract sum with its agreed changes."""
        return self.agreed + self.changes


@dataclass(frozen=True)
class PhaseLine:
    """One ruled row."""

    phase: Phase
    measured: PhaseProgress
    bar: PhaseBar
    cautions: Sequence[str]

    @property
    def in_words(self) -> str:
        """What the bar shows, for those who do not see it."""
        row, ending = self.measured.row, self.measured.forecast.hours
        spoken = [hours(figure, 1) for figure in (row.revised.hours, row.actual.hours, ending)]
        return "agreed {} hours, spent {}, forecast {}".format(*spoken)


@dataclass(frozen=True)
class Unagreed:
    """Hours that stand on a change nobody has said yes to."""

    change: Change
    hours: Decimal


@dataclass(frozen=True)
class Step:
    """A state the job may go to."""

    key: str
    label: str


@dataclass(frozen=True)
class JobPage:
    """All that the sheet shows; money only for those who see prices."""

    job: Job
    contract: Contract | None
    lines: Sequence[PhaseLine]
    total: PhaseProgress
    axis_top: Decimal
    chart: WeekChart | None
    unagreed: Sequence[Unagreed]
    alert: Decimal | None
    mass_kg: Decimal
    warnings: Sequence[JobWarning]
    notes: BenchNotes
    steps: Sequence[Step]
    takes_hours: bool
    first_step: Shown | None
    acts: Sequence[Shown]
    places: Sequence[Shown]

    @property
    def with_all_kg(self) -> Decimal | None:
        """Empty mass with what is agreed, where the job has a limit to keep."""
        if self.job.gross_mass_limit_kg is None or self.job.empty_mass_kg is None:
            return None
        whole: Decimal = self.job.empty_mass_kg + self.mass_kg
        return whole


def job_page(person: Person, pk: int) -> JobPage:
    """The sheet, in a number of queries that does not grow with phases or entries."""
    job, today = get_job_for(person, pk), timezone.localdate()
    phases = list(job.phases.order_by("position", "pk"))
    currency = current_workshop().currency
    rows = phase_rows(phases, currency=currency)
    of_phases = [rows[phase.pk] for phase in phases]
    progress = measure_job(of_phases, currency=currency, finished=job.is_closed)
    weeks = job_weeks(job, phases, progress.phases, today=today, in_money=False)
    lines, top = _lines(phases, progress.phases)
    links, takes_hours = links_for(job, person), _takes_hours(job, person)
    return JobPage(
        job=job,
        contract=contract_of(job) if person.sees_prices else None,
        lines=lines,
        total=progress.total,
        axis_top=top,
        chart=week_chart(weeks, today=today),
        unagreed=_unagreed(job),
        mass_kg=agreed_mass(job),
        alert=alert_share(progress.total, in_money=person.sees_prices),
        warnings=warnings_of(job),
        notes=notes_of(job),
        steps=_steps(job),
        takes_hours=takes_hours,
        first_step=_first_step(job, person, has_phases=bool(phases), next_step=links.next_step),
        acts=links.acts,
        places=links.places,
    )


def contract_of(job: Job) -> Contract | None:
    """What was agreed, by the ledger; None before the first yes."""
    rows = (
        BudgetEntry.objects.filter(phase__job=job)
        .order_by()
        .values_list("source", "change")
        .annotate(Sum("price"))
    )
    entries = list(rows)
    if not entries:
        return None
    agreed = sum((price for source, _, price in entries if source == BudgetSource.QUOTE), ZERO)
    changes = {change: price for source, change, price in entries if source == BudgetSource.CHANGE}
    return Contract(agreed, sum(changes.values(), ZERO), len(changes))


def agreed_mass(job: Job) -> Decimal:
    """What the agreed quote and changes add in mass, as worked out."""
    added = BudgetEntry.objects.filter(phase__job=job).aggregate(mass_kg=Sum("mass_kg"))["mass_kg"]
    return added or ZERO


def alert_share(total: PhaseProgress, *, in_money: bool) -> Decimal | None:
    """By how many per cent the forecast passes the revised budget, if by more than the workshop's share.

    By cost for those who see prices, by hours for the others.
    """
    revised, forecast = total.row.revised, total.forecast
    budget, ending = (revised.cost, forecast.cost) if in_money else (revised.hours, forecast.hours)
    if budget <= 0:
        return None
    over = (ending - budget) * HUNDRED / budget
    return over if over > current_workshop().alert_percent else None


def _lines(phases: Sequence[Phase], measured: Sequence[PhaseProgress]) -> tuple[list[PhaseLine], Decimal]:
    figures = [(row.row.revised.hours, row.row.actual.hours, row.forecast.hours) for row in measured]
    axis = axis_for(max((max(three) for three in figures), default=ZERO), BAR_LENGTH)
    lines = [
        PhaseLine(
            phase,
            row,
            phase_bar(axis, agreed=agreed, spent=spent, forecast=forecast),
            [Caution(word).label for word in phase.cautions if word in Caution.values],
        )
        for phase, row, (agreed, spent, forecast) in zip(phases, measured, figures, strict=True)
    ]
    return lines, axis.top


def _unagreed(job: Job) -> list[Unagreed]:
    rows = (
        TimeEntry.objects.filter(COUNTED, phase__job=job, change__isnull=False)
        .exclude(change__state=ChangeState.AGREED)
        .order_by()
        .values_list("change")
        .annotate(Sum("seconds"))
    )
    seconds = dict(rows)
    changes = Change.objects.in_bulk(seconds) if seconds else {}
    return [Unagreed(change, seconds[pk] / SECONDS) for pk, change in sorted(changes.items())]


def _takes_hours(job: Job, person: Person) -> bool:
    return job.state in OPEN_FOR_HOURS and person.role != Role.BOOKKEEPER


def _first_step(job: Job, person: Person, *, has_phases: bool, next_step: Shown | None) -> Shown | None:
    """What the job waits for: its phases, then what the rooms say, then work, then to be looked back on."""
    is_over = job.state in (JobState.CLOSED, JobState.LOST)
    if not has_phases and not is_over and person.role != Role.BOOKKEEPER:
        return Shown("Add a phase", reverse("jobs:phase-add", args=[job.pk]))
    if next_step is not None:
        return next_step
    if _takes_hours(job, person):
        return Shown("Start a timer", reverse("jobs:bench"))
    if job.is_closed:
        return Shown("Look back", reverse("jobs:look-back", args=[job.pk]))
    return None


def _steps(job: Job) -> list[Step]:
    order = list(JobState.values)
    allowed = sorted(JOB_STEPS[job.state], key=order.index)
    return [Step(state, JobState(state).label) for state in allowed]
