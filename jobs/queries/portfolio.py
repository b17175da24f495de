"""All jobs at once: work in hand, margin by job, hours by person, capacity against what is booked."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet, Sum
from django.utils import timezone

from jobs.charts.bars import PhaseBar, phase_bar
from jobs.charts.scale import axis_for
from jobs.enums import JobState, Role
from jobs.models import BudgetEntry, Job, Person, Phase, TimeEntry
from jobs.money import ZERO
from jobs.progress import Booking, PhaseProgress, measure_job, monday, spread
from jobs.queries.figures import COUNTED, SECONDS, phase_rows
from jobs.queries.job_page import alert_share
from jobs.workshop import current_workshop

WEEKS_BACK = 6
WEEKS_AHEAD = 8
FINISHED_A_PAGE = 10
BAR_LENGTH = 240
HUNDRED = Decimal(100)
IN_HAND = (JobState.WON, JobState.BENCH, JobState.HANDED_OVER)
STILL_TO_DO = (JobState.WON, JobState.BENCH)
OF_A_PHASE = (
    "title", "position", "percent_done", "percent_done_at", "hours_left", "planned_start", "planned_days",
)  # fmt: skip


@dataclass(frozen=True)
class JobLine:
    """A job by its contract and cost, before overhead. `to_earn` is what is agreed for work not done yet."""

    job: Job
    price: Decimal
    to_earn: Decimal
    total: PhaseProgress
    alert: Decimal | None

    @property
    def margin_agreed(self) -> Decimal:
        """Price less the revised budget."""
        return self.price - self.total.row.revised.cost

    @property
    def margin_forecast(self) -> Decimal:
        """Price less the cost it will end at."""
        return self.price - self.total.forecast.cost

    @property
    def margin_percent(self) -> Decimal | None:
        """By the forecast, on the price."""
        return HUNDRED * self.margin_forecast / self.price if self.price else None


@dataclass(frozen=True)
class Sums:
    """The lines added up."""

    price: Decimal
    to_earn: Decimal
    margin_agreed: Decimal
    margin_forecast: Decimal


@dataclass(frozen=True)
class PersonWeeks:
    """Hours of one person, week by week."""

    name: str
    weeks: Sequence[date]
    hours: Sequence[Decimal]

    @property
    def by_week(self) -> Sequence[tuple[date, Decimal]]:
        """Each week's Monday with its hours."""
        return list(zip(self.weeks, self.hours, strict=True))

    @property
    def total(self) -> Decimal:
        """All the weeks."""
        return sum(self.hours, ZERO)


@dataclass(frozen=True)
class WeekAhead:
    """What one week holds against what it can."""

    starts: date
    booked: Decimal
    bar: PhaseBar
    is_over: bool


@dataclass(frozen=True)
class PortfolioPage:
    """All jobs at once."""

    in_hand: Sequence[JobLine]
    sums: Sums
    finished: Sequence[JobLine]
    finished_page: Page[Job]
    weeks_back: Sequence[date]
    people: Sequence[PersonWeeks]
    weeks_ahead: Sequence[WeekAhead]
    capacity: Decimal
    unplanned: Decimal


def portfolio_page(number: str | None) -> PortfolioPage:
    """The page, in a number of queries that does not grow with jobs or entries."""
    today = timezone.localdate()
    jobs = list(_listed(IN_HAND))
    finished = Paginator(_listed((JobState.CLOSED,)), FINISHED_A_PAGE).get_page(number)
    measured = _measured([*jobs, *finished])
    in_hand = [measured.lines[job.pk] for job in jobs]
    everybody = list(Person.objects.all())
    capacity = _capacity(everybody)
    weeks_ahead = _weeks_ahead(measured.bookings, capacity, today)
    weeks_back = [monday(today) - timedelta(weeks=back) for back in range(WEEKS_BACK - 1, -1, -1)]
    return PortfolioPage(
        in_hand=in_hand,
        sums=_sums(in_hand),
        finished=[measured.lines[job.pk] for job in finished],
        finished_page=finished,
        weeks_back=weeks_back,
        people=_people(everybody, weeks_back),
        weeks_ahead=weeks_ahead,
        capacity=capacity,
        unplanned=sum((booking.hours for booking in measured.bookings if booking.start is None), ZERO),
    )


def jobs_past_budget() -> list[JobLine]:
    """Jobs won or on the bench whose forecast passes their budget by more than the workshop's share."""
    lines = _measured(list(_listed(STILL_TO_DO))).lines.values()
    return [line for line in lines if line.alert is not None]


@dataclass(frozen=True)
class Measured:
    """Jobs measured, and what is still to be worked on those not finished."""

    lines: dict[int, JobLine]
    bookings: list[Booking]


def _listed(states: Iterable[str]) -> QuerySet[Job]:
    jobs = Job.objects.filter(state__in=states, archived_at=None).select_related("client")
    return jobs.only("number", "title", "state", "client__name").order_by("-number")


def _measured(jobs: Sequence[Job]) -> Measured:
    workshop = current_workshop()
    currency, hours_a_day = workshop.currency, Decimal(workshop.hours_a_day)
    found = Phase.objects.filter(job__in=jobs)
    phases = list(found.order_by("position", "pk").values_list("pk", "job_id", *OF_A_PHASE, named=True))
    rows = phase_rows(phases, currency=currency, among=found.values("pk"))
    by_job: dict[int, list[Phase]] = defaultdict(list)
    for phase in phases:
        by_job[phase.job_id].append(phase)
    prices = _prices(found)
    lines, bookings = {}, []
    for job in jobs:
        of_phases = [rows[phase.pk] for phase in by_job[job.pk]]
        progress = measure_job(of_phases, currency=currency, finished=job.is_closed)
        alert = alert_share(progress.total, in_money=True)
        price = sum((prices[phase.pk] for phase in by_job[job.pk]), ZERO)
        to_earn = sum((prices[phase.pk] * _share_left(phase) for phase in by_job[job.pk]), ZERO)
        lines[job.pk] = JobLine(job, price, to_earn, progress.total, alert)
        if job.state in STILL_TO_DO:
            bookings += [
                Booking(_hours_to_come(phase, measured, hours_a_day), phase.planned_start, phase.planned_days)
                for phase, measured in zip(by_job[job.pk], progress.phases, strict=True)
            ]
    return Measured(lines, bookings)


def _prices(phases: QuerySet[Phase]) -> dict[int, Decimal]:
    """What is agreed for each phase."""
    agreed = BudgetEntry.objects.filter(phase__in=phases.values("pk")).order_by().values_list("phase")
    return defaultdict(Decimal, agreed.annotate(Sum("price")))


def _share_left(phase: Phase) -> Decimal:
    """The part of a phase still to be done, by the maker's word."""
    share: Decimal = (HUNDRED - phase.percent_done) / HUNDRED
    return share


def _hours_to_come(phase: Phase, measured: PhaseProgress, hours_a_day: Decimal) -> Decimal:
    """The maker's word; else forecast less spent; where nothing is budgeted, the planned days."""
    left: Decimal | None = phase.hours_left
    if left is not None and phase.percent_done < HUNDRED:
        return left
    if measured.forecast.hours > 0:
        return max(measured.to_complete.hours, ZERO)
    return _share_left(phase) * phase.planned_days * hours_a_day


def _capacity(everybody: Sequence[Person]) -> Decimal:
    """Hours a week of those who work at the bench."""
    at_work = [one for one in everybody if one.is_active and one.role != Role.BOOKKEEPER]
    return Decimal(sum(one.hours_a_week for one in at_work))


def _weeks_ahead(bookings: Sequence[Booking], capacity: Decimal, today: date) -> list[WeekAhead]:
    booked = spread(bookings, today=today, weeks=WEEKS_AHEAD)
    axis = axis_for(max([capacity, *booked]), BAR_LENGTH)
    return [
        WeekAhead(
            starts=monday(today) + timedelta(weeks=at),
            booked=hours,
            bar=phase_bar(axis, agreed=capacity, spent=min(hours, capacity), forecast=hours),
            is_over=hours > capacity,
        )
        for at, hours in enumerate(booked)
    ]


def _people(everybody: Sequence[Person], weeks: Sequence[date]) -> list[PersonWeeks]:
    """Hours by person and week: one query, which adds up each day from its index alone."""
    names = {one.pk: one.name for one in everybody}
    hours: dict[tuple[str, int], list[Decimal]] = defaultdict(lambda: [ZERO] * len(weeks))
    days = (
        TimeEntry.objects.filter(COUNTED, on_date__gte=weeks[0], on_date__lt=weeks[-1] + timedelta(weeks=1))
        .order_by()
        .values_list("person", "on_date")
        .annotate(Sum("seconds"))
    )
    for person, day, seconds in days:
        hours[names[person], person][weeks.index(monday(day))] += seconds / SECONDS
    return [PersonWeeks(name, weeks, row) for (name, _), row in sorted(hours.items())]


def _sums(lines: Sequence[JobLine]) -> Sums:
    return Sums(
        price=sum((line.price for line in lines), ZERO),
        to_earn=sum((line.to_earn for line in lines), ZERO),
        margin_agreed=sum((line.margin_agreed for line in lines), ZERO),
        margin_forecast=sum((line.margin_forecast for line in lines), ZERO),
    )
