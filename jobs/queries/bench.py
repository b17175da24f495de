"""What does the bench page show: which timer runs, what can be started, what is logged today?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from uuid import UUID, uuid4

from django.db.models import Case, IntegerField, Max, Q, QuerySet, Value, When
from django.utils import timezone

from jobs.enums import OPEN_FOR_HOURS, ChangeState, JobState
from jobs.models import Change, Job, Person, Phase, TimeEntry
from jobs.progress.stretches import LONG_DAY, Stretch, overlapping
from jobs.services.hours import is_forgotten, running_timer

MOST_JOBS = 60
RECENT = 3
RECENT_DAYS = 30
LIVE_CHANGES = (ChangeState.DRAFT, ChangeState.ISSUED, ChangeState.AGREED)


@dataclass(frozen=True)
class ChangeChoice:
    """A change that hours or costs can be for."""

    pk: int
    words: str


@dataclass(frozen=True)
class PhaseChoice:
    """A phase that can be started, with the change it was last worked on for."""

    pk: int
    title: str
    job: str = ""
    change: ChangeChoice | None = None


@dataclass(frozen=True)
class JobChoice:
    """An open job with its phases and the changes still alive."""

    pk: int
    number: str
    title: str
    phases: tuple[PhaseChoice, ...]
    changes: tuple[ChangeChoice, ...]


@dataclass(frozen=True)
class Running:
    """The running timer."""

    key: UUID
    phase_id: int
    change_id: int | None
    phase: str
    job: str
    change: str
    since: datetime
    elapsed: int
    forgotten: bool


@dataclass(frozen=True)
class DayRow:
    """One entry of a day as the phone shows it."""

    pk: int
    phase: str
    job: str
    change: str
    when: str
    seconds: int | None
    note: str


@dataclass(frozen=True)
class BenchPage:
    """Everything on the bench page. `key` is for the form of somebody without script."""

    key: UUID
    running: Running | None
    recent: tuple[PhaseChoice, ...]
    jobs: tuple[JobChoice, ...]
    today: tuple[DayRow, ...]
    seconds: int
    now: datetime


def bench_page(person: Person) -> BenchPage:
    """Six queries, however many jobs and entries there are."""
    now = timezone.now()
    jobs = open_jobs()
    today = tuple(_day_row(entry) for entry in entries_of(person, timezone.localdate(now)))
    timer = running_timer(person)
    return BenchPage(
        key=uuid4(),
        running=_running(timer, now) if timer else None,
        recent=tuple(_recent(person, jobs, timer)),
        jobs=jobs,
        today=today,
        seconds=sum(row.seconds or 0 for row in today),
        now=now,
    )


def running_now(person: Person) -> Running | None:
    """The timer at the thumb; one query."""
    timer = running_timer(person)
    return _running(timer, timezone.now()) if timer else None


def open_jobs(*, also: TimeEntry | None = None) -> tuple[JobChoice, ...]:
    """The jobs that take hours, those on the bench first; three queries of no more than is drawn.

    `also` is an entry to be put right: its own job and change can be chosen, whatever became of them.
    """
    turn = Case(
        When(state=JobState.BENCH, then=Value(0)),
        When(state=JobState.WON, then=Value(1)),
        default=Value(2),
        output_field=IntegerField(),
    )
    found = Job.objects.filter(state__in=OPEN_FOR_HOURS, archived_at=None).order_by(turn, "-number")
    jobs = list(found.values_list("pk", "number", "title")[:MOST_JOBS])
    pks = [pk for pk, _, _ in jobs]
    alive = Q(state__in=LIVE_CHANGES)
    if also:
        alive |= Q(pk=also.change_id)
        if also.phase.job_id not in pks:
            own = also.phase.job
            jobs, pks = [(own.pk, own.number, own.title), *jobs], [own.pk, *pks]
    phases: dict[int, list[tuple[int, str]]] = defaultdict(list)
    rows = Phase.objects.filter(job__in=pks).order_by("position", "pk")
    for job, pk, title in rows.values_list("job", "pk", "title"):
        phases[job].append((pk, title))
    changes: dict[int, list[ChangeChoice]] = defaultdict(list)
    for change in Change.objects.filter(alive, job__in=pks).order_by("number"):
        changes[change.job_id].append(ChangeChoice(change.pk, change_words(change)))
    return tuple(
        JobChoice(
            pk=job,
            number=number,
            title=title,
            phases=tuple(PhaseChoice(pk, words, title) for pk, words in phases[job]),
            changes=tuple(changes[job]),
        )
        for job, number, title in jobs
    )


def entries_of(person: Person, day: date) -> QuerySet[TimeEntry]:
    """That day's entries that count, in the order they were worked."""
    entries = TimeEntry.objects.filter(person=person, on_date=day, void=False)
    return entries.select_related("phase__job", "change").order_by("started_at", "pk")


def last_phase(person: Person) -> int | None:
    """The phase this person last logged hours on."""
    entries = TimeEntry.objects.filter(person=person, void=False).order_by("-pk")
    return entries.values_list("phase_id", flat=True).first()


def entry_flags(entry: TimeEntry) -> list[str]:
    """What the person should know about an entry just logged: one query."""
    flags = [] if entry.change is None or entry.change.is_agreed else [f"{entry.change} is not yet agreed."]
    near = list(
        TimeEntry.objects.filter(
            person=entry.person_id,
            void=False,
            on_date__range=(entry.on_date - timedelta(days=1), entry.on_date + timedelta(days=1)),
        )
    )
    if entry.pk in overlapping(stretches_of(near, timezone.now())):
        flags.append("It shares time with another entry.")
    seconds = sum(one.seconds or 0 for one in near if one.on_date == entry.on_date)
    if seconds > LONG_DAY:
        flags.append(f"That makes {seconds // 3600} hours for the day.")
    return flags


def stretches_of(entries: Iterable[TimeEntry], now: datetime) -> list[Stretch]:
    """Entries as the calculation takes them; a running timer goes until now."""
    return [
        Stretch(
            entry.pk,
            entry.on_date,
            entry.seconds or 0,
            entry.started_at,
            entry.ended_at if entry.seconds is not None else max(now, entry.started_at or now),
        )
        for entry in entries
    ]


def change_words(change: Change | None) -> str:
    """A change in a few words, with a flag while there is no yes to it."""
    if change is None:
        return ""
    return str(change) if change.is_agreed else f"{change}, not yet agreed"


def _recent(person: Person, jobs: Sequence[JobChoice], timer: TimeEntry | None) -> Iterable[PhaseChoice]:
    """What this person worked on last and can take up again, but for what they are at now."""
    phases = {phase.pk: phase for job in jobs for phase in job.phases}
    changes = {change.pk: change for job in jobs for change in job.changes}
    at_it = (timer.phase_id, timer.change_id) if timer else None
    worked = (
        TimeEntry.objects.filter(
            Q(change=None) | Q(change__in=changes),
            person=person,
            void=False,
            on_date__gte=timezone.localdate() - timedelta(days=RECENT_DAYS),
            phase__in=phases,
        )
        .values_list("phase_id", "change_id")
        .annotate(last=Max("pk"))
        .order_by("-last")[: RECENT + 1]
    )
    pairs = [(phase, change) for phase, change, _ in worked if (phase, change) != at_it]
    for phase, change in pairs[:RECENT]:
        found = phases[phase]
        yield PhaseChoice(found.pk, found.title, found.job, changes.get(change) if change else None)


def _running(entry: TimeEntry, now: datetime) -> Running:
    since = entry.started_at or now
    return Running(
        key=entry.key,
        phase_id=entry.phase_id,
        change_id=entry.change_id,
        phase=entry.phase.title,
        job=entry.phase.job.title,
        change=change_words(entry.change),
        since=timezone.localtime(since),
        elapsed=int((now - since).total_seconds()),
        forgotten=is_forgotten(entry, now),
    )


def _day_row(entry: TimeEntry) -> DayRow:
    return DayRow(
        pk=entry.pk,
        phase=entry.phase.title,
        job=entry.phase.job.title,
        change=change_words(entry.change),
        when=when_of(entry),
        seconds=entry.seconds,
        note=entry.note,
    )


def when_of(entry: TimeEntry) -> str:
    """From when to when, or that it was typed."""
    if entry.started_at is None:
        return "typed"
    start = timezone.localtime(entry.started_at)
    if entry.ended_at is None:
        return f"since {start:%H:%M}"
    return f"{start:%H:%M} – {timezone.localtime(entry.ended_at):%H:%M}"
