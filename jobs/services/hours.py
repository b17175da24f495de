"""Log hours: start, switch and stop a timer, or say how long it took.

Every write has a key made by whoever asks. The same key again is the same entry: it's returned, not written
twice. A timer keeps the phone's own instants; the length is what passed between them, to the workshop's step.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Generic, TypeVar
from uuid import UUID

from django.db import models, transaction
from django.db.models import Sum
from django.utils import timezone

from jobs.enums import OPEN_FOR_HOURS, JobState
from jobs.history import record, snapshot
from jobs.models import Change, LockedWeek, Person, PersonRate, Phase, TimeEntry, Workshop
from jobs.progress.stretches import DAY, HOUR, elapsed_seconds, rounded_seconds
from jobs.refusals import AskError, RefusedError
from jobs.workshop import current_workshop

Row = TypeVar("Row", bound=models.Model)
CLOCK_MAY_BE_OUT_BY = timedelta(minutes=10)
OLDEST = timedelta(days=366)
BEYOND_A_DAY = timedelta(hours=2)
TOLD = ("phase", "change", "on_date", "seconds", "note")


@dataclass(frozen=True)
class Stored(Generic[Row]):
    """A row, and whether it's new or was there already under the same key."""

    row: Row
    new: bool


@dataclass(frozen=True)
class Work:
    """On what was worked, and for which change if it is for one."""

    phase: Phase
    change: Change | None = None
    note: str = ""


@transaction.atomic
def start_timer(*, person: Person, key: UUID, work: Work, at: datetime | None = None) -> Stored[TimeEntry]:
    """A timer of this person runs from that instant. Refused while another of theirs runs."""
    hold(person)
    if same := _stored(person, key, work):
        return same
    if running := running_timer(person):
        raise RefusedError(f"A timer runs {where_it_runs(running)}. Stop it or switch.")
    return Stored(_run(person, key, work, _instant(at)), new=True)


@transaction.atomic
def switch_phase(  # the phone says which timer it believes runs, and whether a long one is meant
    *,
    person: Person,
    key: UUID,
    work: Work,
    at: datetime | None = None,
    stops: UUID | None = None,
    stopped_at: datetime | None = None,
    sure: bool = False,
) -> Stored[TimeEntry]:
    """The running timer stops and one on this work starts at the same instant.

    A timer that was forgotten stopped earlier, at `stopped_at`, and what lies between is nobody's. Where
    `stops` names a timer, another one running is refused; that timer already stopped is no hindrance.
    """
    hold(person)
    if same := _stored(person, key, work):
        return same
    instant = _instant(at)
    running = running_timer(person)
    if running is not None:
        if stops and running.key != stops:
            raise RefusedError(f"Another timer runs, {where_it_runs(running)}.")
        _end(running, _stopped(stopped_at, instant), sure=sure or stopped_at is not None)
    return Stored(_run(person, key, work, instant), new=True)


@transaction.atomic
def stop_timer(
    *,
    person: Person,
    timer: UUID,
    at: datetime | None = None,
    sure: bool = False,
    note: str = "",
    by: Person | None = None,
) -> Stored[TimeEntry]:
    """The timer with that key is over. Stopped again at the same instant, or at none, it stays as it is.

    The history tells of the person, or of whoever (`by`) stopped it in their stead.

    A timer that has run for longer than a day's work is not stopped before the person has said when (or that
    it is right: `sure`).
    """
    hold(person)
    entry = TimeEntry.objects.select_related("phase__job").filter(person=person, key=timer).first()
    if entry is None:
        raise RefusedError("That timer was never started here.")
    if entry.ended_at is not None:
        if at is None or at == entry.ended_at:
            return Stored(entry, new=False)
        raise RefusedError(f"That timer on {entry.phase} was already stopped, at {clock(entry.ended_at)}.")
    entry.note = note or entry.note
    return Stored(_end(entry, _instant(at), sure=sure, by=by), new=True)


@transaction.atomic
def log_stretch(
    *, person: Person, key: UUID, work: Work, started_at: datetime, ended_at: datetime
) -> Stored[TimeEntry]:
    """These hours are in the book, from one instant to another. No timer needs to run or stop for it.

    Refused where all that is logged for the day would pass 24 hours.
    """
    hold(person)
    if same := _stored(person, key, work):
        return same
    start, end = _instant(started_at), _instant(ended_at)
    entry = new_entry(person, key, work, timezone.localdate(start))
    entry.started_at, entry.ended_at = start, end
    entry.seconds = length_of(start, end)
    check_room_in_day(person, entry.on_date, entry.seconds)
    entry.save(force_insert=True)
    _tell(entry, "logged")
    return Stored(entry, new=True)


@transaction.atomic
def log_hours(*, person: Person, key: UUID, work: Work, on_date: date, seconds: int) -> Stored[TimeEntry]:
    """So long was worked that day, to the workshop's step; when in the day is not said.

    Refused where all that is logged for the day would pass 24 hours.
    """
    hold(person)
    kept = in_steps(seconds)
    if same := _stored(person, key, work, on_date=on_date, seconds=kept):
        return same
    if not 0 < seconds <= DAY:
        raise RefusedError("Hours of one day are over nothing and at most 24.", beside="hours")
    entry = new_entry(person, key, work, on_date)
    check_room_in_day(person, on_date, kept)
    entry.seconds = kept
    entry.save(force_insert=True)
    _tell(entry, "logged")
    return Stored(entry, new=True)


def hold(person: Person) -> None:
    """One write at a time for each person, until the transaction ends."""
    Person.objects.select_for_update(no_key=True).get(pk=person.pk)


def running_timer(person: Person) -> TimeEntry | None:
    """This person's running timer."""
    running = TimeEntry.objects.filter(person=person, seconds=None)
    return running.select_related("phase__job", "change").first()


def where_it_runs(timer: TimeEntry) -> str:
    """On which phase, and since when."""
    return f"on {timer.phase} since {clock(_start_of(timer))}"


def asks_after(workshop: Workshop) -> timedelta:
    """For how long a timer may run before it is thought forgotten."""
    return timedelta(hours=float(workshop.hours_a_day)) + BEYOND_A_DAY


def is_forgotten(entry: TimeEntry, now: datetime) -> bool:
    """A timer that has run for longer than a day's work and two hours more."""
    return entry.is_running and now - _start_of(entry) > asks_after(current_workshop())


def new_entry(person: Person, key: UUID, work: Work, on_date: date) -> TimeEntry:
    """An entry not yet saved, at the person's cost on that day, for work that may take hours."""
    check_work(work)
    return entry_of_day(person, key, work, on_date)


def entry_of_day(person: Person, key: UUID, work: Work, on_date: date) -> TimeEntry:
    """An entry not yet saved, at the person's cost on that day, whatever state its job is in."""
    check_change(work)
    check_day(person, on_date)
    return TimeEntry(
        person=person,
        key=key,
        phase=work.phase,
        change=work.change,
        note=work.note,
        on_date=on_date,
        cost_rate=cost_rate_on(person, on_date) or Decimal(0),
    )


def check_work(work: Work) -> None:
    """Refuses work on a job that is not open for hours, and a change that belongs to another job."""
    job = work.phase.job
    if job.state not in OPEN_FOR_HOURS or job.archived_at:
        state = "put away" if job.archived_at else JobState(job.state).label
        raise RefusedError(
            f"Job {job.number} is {state}. A job takes hours and costs once it is won and until it is closed."
        )
    check_change(work)


def check_change(work: Work) -> None:
    """Refuses a change that belongs to another job."""
    if work.change and work.change.job_id != work.phase.job_id:
        raise RefusedError(f"{work.change} belongs to another job than {work.phase}.")


def check_day(person: Person, on_date: date) -> None:
    """Refuses a day to come, one too long ago, and one in a locked week."""
    today = timezone.localdate()
    if on_date > today:
        raise RefusedError("That day is still to come.")
    if on_date < today - OLDEST:
        raise RefusedError("That day is more than a year ago: look at the year.")
    monday = monday_of(on_date)
    if LockedWeek.objects.filter(person=person, monday=monday).exists():
        raise RefusedError(
            f"The week of {monday:%-d %B} is locked. The owner can open it again on the time sheet."
        )


def check_room_in_day(
    person: Person, on_date: date, seconds: int, *, instead_of: TimeEntry | None = None
) -> None:
    """Refuses more than 24 hours a day, all entries of the day counted; a running timer has no length yet.

    An entry corrected to no more than it was is taken, or a day that is over already could not be mended.
    """
    same_day = TimeEntry.objects.filter(person=person, void=False, on_date=on_date, seconds__isnull=False)
    if instead_of is not None:
        if instead_of.on_date == on_date and seconds <= (instead_of.seconds or 0):
            return
        same_day = same_day.exclude(pk=instead_of.pk)
    logged = same_day.aggregate(Sum("seconds"))["seconds__sum"] or 0
    if logged + seconds > DAY:
        raise RefusedError(
            f"{length(logged)} h are logged for {on_date:%A %-d %B} already: with {length(seconds)} h more"
            " that day would have more than 24.",
            beside="hours",
        )


def length(seconds: int) -> str:
    """Hours and minutes."""
    return f"{seconds // HOUR}:{seconds % HOUR // 60:02d}"


def check_instant(at: datetime) -> None:
    """Refuses an instant to come, but for a clock a little out."""
    if at - timezone.now() > CLOCK_MAY_BE_OUT_BY:
        raise RefusedError(f"{clock(at)} is still to come. Is the clock right?")


def cost_rate_on(person: Person, day: date) -> Decimal | None:
    """What an hour of this person cost on that day; None where no rate was set yet."""
    rates = PersonRate.objects.filter(person=person, from_date__lte=day).order_by("-from_date")
    return rates.values_list("cost_rate", flat=True).first()


def monday_of(day: date) -> date:
    """The Monday of that day's week (ISO 8601)."""
    return day - timedelta(days=day.weekday())


def in_steps(seconds: int) -> int:
    """To the workshop's step."""
    return rounded_seconds(seconds, current_workshop().round_minutes_to)


def length_of(start: datetime, end: datetime) -> int:
    """What passed between, to the workshop's step. Refuses an end before the start and more than a day."""
    seconds = elapsed_seconds(start, end)
    if seconds < 0:
        raise RefusedError(f"It would end at {clock(end)}, before it started at {clock(start)}.")
    if seconds > DAY:
        raise RefusedError(f"That is {seconds // HOUR} hours on end. Log each day by itself.")
    return in_steps(seconds)


def clock(instant: datetime) -> str:
    """An instant on the workshop's clock: today's by the time alone."""
    local = timezone.localtime(instant)
    return f"{local:%H:%M}" if local.date() == timezone.localdate() else f"{local:%H:%M on %-d %b}"


def _stored(
    person: Person, key: UUID, work: Work, *, on_date: date | None = None, seconds: int | None = None
) -> Stored[TimeEntry] | None:
    entry = TimeEntry.objects.select_related("phase__job", "change").filter(person=person, key=key).first()
    if entry is None:
        return None
    change_id = work.change.pk if work.change else None
    same = (entry.phase_id, entry.change_id) == (work.phase.pk, change_id)
    if on_date is not None:
        same = same and (entry.on_date, entry.seconds) == (on_date, seconds)
    if not same:
        raise RefusedError("This was already sent with something else in it. Open the page again.")
    return Stored(entry, new=False)


def _instant(at: datetime | None) -> datetime:
    if at is None:
        return timezone.now()
    check_instant(at)
    return at


def _stopped(stopped_at: datetime | None, next_began: datetime) -> datetime:
    if stopped_at and stopped_at > next_began:
        raise RefusedError(
            f"It would end at {clock(stopped_at)}, after the next began at {clock(next_began)}."
        )
    return stopped_at or next_began


def _run(person: Person, key: UUID, work: Work, instant: datetime) -> TimeEntry:
    entry = new_entry(person, key, work, timezone.localdate(instant))
    entry.started_at = instant
    entry.save(force_insert=True)
    _tell(entry, "started a timer")
    return entry


def _end(entry: TimeEntry, instant: datetime, *, sure: bool, by: Person | None = None) -> TimeEntry:
    start = _start_of(entry)
    if is_forgotten(entry, instant) and not sure:
        hours = elapsed_seconds(start, instant) // HOUR
        raise AskError(
            f"The timer on {entry.phase} has run for {hours} hours, since {clock(start)}. When did you stop?",
            asks="at",
        )
    check_day(entry.person, entry.on_date)
    entry.seconds, entry.ended_at = length_of(start, instant), instant
    entry.save(update_fields=["seconds", "ended_at", "note"])
    _tell(entry, "stopped the timer", by=by)
    return entry


def _tell(entry: TimeEntry, action: str, *, by: Person | None = None) -> None:
    after = {name: words for name, words in snapshot(entry, TOLD).items() if words not in {"", "None"}}
    record(person=by or entry.person, thing=entry, action=action, job=entry.phase.job, after=after)


def _start_of(entry: TimeEntry) -> datetime:
    assert entry.started_at is not None  # the database holds it for a running timer
    return entry.started_at
