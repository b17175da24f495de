"""What do finished jobs teach, and where did one of them part from its quote?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from django.db.models import Sum

from jobs.agreed_work import agreed_work
from jobs.charts.scatter import Pair, ScatterChart, scatter_chart
from jobs.charts.waterfall import Fall, waterfall
from jobs.enums import JobState
from jobs.models import BudgetEntry, Job, Person, Phase, TimeEntry
from jobs.money import ZERO
from jobs.progress import Lesson, Parting, lessons, margin_steps, measure_job, part, together
from jobs.queries.figures import COUNTED, SECONDS, phase_rows
from jobs.queries.job_page import contract_of
from jobs.queries.jobs import get_job_for
from jobs.templatetags.figures import hours, number
from jobs.workshop import current_workshop

MOST_JOBS = 100
FINISHED = (JobState.HANDED_OVER, JobState.CLOSED)
WORTH_A_WORD = 3


@dataclass(frozen=True)
class LearntPage:
    """Hours a unit from the latest finished jobs, and how their hours lay against the quoted ones."""

    lessons: Sequence[Lesson]
    chart: ScatterChart | None
    job_count: int
    most_jobs: int = MOST_JOBS


@dataclass(frozen=True)
class LookBackPage:
    """A job with what was agreed and where it ended, phase by phase and all together."""

    job: Job
    parts: Sequence[Parting]
    total: Parting
    unfinished: Sequence[str]
    in_words: Sequence[str]
    falls: Sequence[Fall]
    sees_prices: bool


def learnt_page() -> LearntPage:
    """The lessons, from the latest finished jobs; a few queries however many jobs there are."""
    jobs = _finished_jobs()
    phases, actual = _phases_of(jobs), _actual_hours("phase", jobs)
    taken: dict[int, Decimal] = defaultdict(Decimal)
    for phase, hours_taken in actual.items():
        taken[phases[phase]] += hours_taken
    pairs = _pairs(jobs, taken)
    return LearntPage(lessons(agreed_work(list(phases)), actual), scatter_chart(pairs), len(pairs))


def finished_lessons() -> Sequence[Lesson]:
    """The lessons alone, without what lies beside them on their page."""
    jobs = _finished_jobs()
    return lessons(agreed_work(list(_phases_of(jobs))), _actual_hours("phase", jobs))


def hour_ratios() -> list[float]:
    """Actual hours over agreed ones of each of the latest finished jobs: how estimates have held so far."""
    jobs = _finished_jobs()
    return [float(pair.actual / pair.quoted) for pair in _pairs(jobs, _actual_hours("phase__job", jobs))]


def look_back_page(person: Person, pk: int) -> LookBackPage:
    """The job looked back on, in a fixed number of queries; money for those who see prices."""
    job, currency = get_job_for(person, pk), current_workshop().currency
    rows = phase_rows(list(job.phases.order_by("position", "pk")), currency=currency)
    progress = measure_job(list(rows.values()), currency=currency, finished=job.is_closed)
    parts = [part(measured, currency=currency) for measured in progress.phases]
    return LookBackPage(
        job=job,
        parts=parts,
        total=together(parts),
        unfinished=[parting.title for parting in parts if not parting.is_finished],
        in_words=[words_of(parting) for parting in _furthest(parts)],
        falls=_falls(job, parts, [row.original.cost for row in rows.values()]) if person.sees_prices else (),
        sees_prices=person.sees_prices,
    )


def words_of(parting: Parting) -> str:
    """One phase in a sentence, by its hours."""
    percent, took = parting.hours_percent, "took" if parting.is_finished else "will take"
    if percent is None:
        return f"{parting.title} {took} {hours(parting.ended.hours, 1)} h that nobody had agreed."
    way = "longer" if parting.hours < 0 else "less"
    return (
        f"{parting.title} {took} {hours(abs(parting.hours), 1)} h {way} than the "
        f"{hours(parting.agreed.hours, 1)} h agreed, {number(abs(percent), 0)}\u202f%."
    )


def _furthest(parts: Sequence[Parting]) -> list[Parting]:
    apart = [parting for parting in parts if abs(parting.hours) >= Decimal("0.5")]
    return sorted(apart, key=lambda parting: -abs(parting.hours))[:WORTH_A_WORD]


def _falls(job: Job, parts: Sequence[Parting], quoted_costs: Sequence[Decimal]) -> list[Fall]:
    contract = contract_of(job)
    if contract is None:
        return []
    cost_quoted = sum(quoted_costs, ZERO)
    cost_agreed = sum((parting.agreed.cost for parting in parts), ZERO)
    return waterfall(
        margin_steps(
            quoted=contract.agreed,
            changes=contract.changes,
            cost_quoted=cost_quoted,
            cost_changes=cost_agreed - cost_quoted,
            parts=parts,
        )
    )


def _finished_jobs() -> dict[int, str]:
    """The latest finished jobs, with their numbers."""
    latest = Job.objects.filter(state__in=FINISHED).order_by("-number").values_list("pk", "number")
    return dict(latest[:MOST_JOBS])


def _phases_of(jobs: Mapping[int, str]) -> dict[int, int]:
    """The phases of those jobs, each with its job."""
    return dict(Phase.objects.filter(job__in=list(jobs)).order_by("pk").values_list("pk", "job"))


def _actual_hours(by: Literal["phase", "phase__job"], jobs: Mapping[int, str]) -> dict[int, Decimal]:
    rows = (
        TimeEntry.objects.filter(COUNTED, phase__job__in=list(jobs))
        .order_by()
        .values_list(by)
        .annotate(Sum("seconds"))
    )
    return {pk: seconds / SECONDS for pk, seconds in rows}


def _pairs(jobs: Mapping[int, str], taken: Mapping[int, Decimal]) -> list[Pair]:
    agreed = dict(
        BudgetEntry.objects.filter(phase__job__in=list(jobs))
        .order_by()
        .values_list("phase__job")
        .annotate(Sum("hours"))
    )
    return [
        Pair(jobs[job], agreed[job], spent)
        for job, spent in sorted(taken.items())
        if spent > 0 and agreed.get(job, ZERO) > 0
    ]
