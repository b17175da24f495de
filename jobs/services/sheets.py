"""Put right, approve and close what was logged. A correction refers to what it replaces, which stays."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from jobs.enums import Role
from jobs.history import record, snapshot
from jobs.models import LockedWeek, Person, TimeEntry
from jobs.progress.stretches import DAY
from jobs.refusals import RefusedError
from jobs.services.hours import (
    TOLD,
    Stored,
    Work,
    check_day,
    check_instant,
    check_room_in_day,
    check_work,
    entry_of_day,
    hold,
    in_steps,
    length_of,
    monday_of,
    stop_timer,
)


@dataclass(frozen=True)
class Hours:
    """What an entry should say: a day and a length, or the instants it's between."""

    on_date: date
    seconds: int = 0
    started_at: datetime | None = None
    ended_at: datetime | None = None


def may_correct(by: Person, entry: TimeEntry) -> bool:
    """The owner corrects everything; others their own entries until they are approved."""
    return by.role == Role.OWNER or (by.pk == entry.person_id and entry.approved_at is None)


@transaction.atomic
def correct_entry(
    *, entry: TimeEntry, by: Person, key: UUID, work: Work, hours: Hours, reason: str
) -> Stored[TimeEntry]:
    """A new entry stands in place of the old one, which stays in the book as void.

    Refused for one that is void already, without a reason, and where the day would pass 24 hours. On a job
    that is closed by now the owner alone corrects, and within that job.
    """
    hold(entry.person)
    if same := TimeEntry.objects.filter(person=entry.person, key=key).first():
        return Stored(same, new=False)
    old = _standing(entry, by, reason)
    _check_moved(old, by, work)
    correction = entry_of_day(old.person, key, work, hours.on_date)
    correction.started_at, correction.ended_at = hours.started_at, hours.ended_at
    correction.seconds = _seconds(hours)
    check_room_in_day(old.person, hours.on_date, correction.seconds, instead_of=old)
    correction.corrects, correction.reason = old, reason.strip()
    old.void = True
    old.save(update_fields=["void"])
    correction.save(force_insert=True)
    before, after = snapshot(old, TOLD), snapshot(correction, TOLD)
    record(person=by, thing=old, action="corrected", job=work.phase.job, before=before, after=after)
    return Stored(correction, new=True)


@transaction.atomic
def end_timer(*, entry: TimeEntry, by: Person, at: datetime, reason: str) -> Stored[TimeEntry]:
    """A timer that its person cannot stop any more is over at that instant; why stays with it.

    The owner alone says so. Refused without a reason, and for a timer that was stopped at another instant.
    """
    if by.role != Role.OWNER:
        raise RefusedError("The owner alone stops somebody else's timer.")
    if not reason.strip():
        raise RefusedError("Say why it is stopped here.")
    if entry.started_at is None:
        raise RefusedError("Those are typed hours: no timer ran. Correct them instead.")
    stopped = stop_timer(person=entry.person, timer=entry.key, at=at, sure=True, by=by)
    if stopped.new:
        stopped.row.reason = reason.strip()
        stopped.row.save(update_fields=["reason"])
        record(person=by, thing=stopped.row, action="said why", after={"reason": stopped.row.reason})
    return stopped


@transaction.atomic
def void_entry(*, entry: TimeEntry, by: Person, reason: str) -> TimeEntry:
    """The entry counts no longer; it stays in the book with the reason. Void already, it stays as it is."""
    hold(entry.person)
    if TimeEntry.objects.filter(pk=entry.pk, void=True, corrected_by=None).exists():
        return entry
    old = _standing(entry, by, reason)
    old.void, old.reason = True, reason.strip()
    old.save(update_fields=["void", "reason"])
    record(person=by, thing=old, action="voided", job=old.phase.job, after={"reason": old.reason})
    return old


@transaction.atomic
def approve_week(*, person: Person, monday: date, by: Person) -> int:
    """Every finished entry of that week is approved; returns how many were not yet. A running one waits."""
    hold(person)
    waiting = week_entries(person, monday).filter(approved_at=None, seconds__isnull=False)
    approved = waiting.update(approved_at=timezone.now(), approved_by=by)
    if approved:
        record(
            person=by,
            thing=person,
            action="approved hours",
            after={"week": str(monday), "entries": str(approved)},
        )
    return approved


@transaction.atomic
def lock_week(*, person: Person, monday: date, by: Person) -> LockedWeek:
    """Nothing in that week changes from now on. Refused while an entry is not approved or runs."""
    hold(person)
    locked = LockedWeek.objects.filter(person=person, monday=monday).first()
    if locked:
        return locked
    if week_entries(person, monday).filter(approved_at=None).exists():
        raise RefusedError(
            "Approve the week first: some of its hours are not approved or a timer still runs."
        )
    locked = LockedWeek.objects.create(person=person, monday=monday_of(monday), locked_by=by)
    record(person=by, thing=person, action="locked week", after={"week": str(monday)})
    return locked


@transaction.atomic
def open_week(*, person: Person, monday: date, by: Person, reason: str) -> None:
    """The week can be corrected again; why is in the history. Open already, it stays open."""
    hold(person)
    locked = LockedWeek.objects.filter(person=person, monday=monday)
    if not locked.exists():
        return
    if not reason.strip():
        raise RefusedError("Say why the week is opened again.")
    locked.delete()
    record(
        person=by, thing=person, action="opened week", after={"week": str(monday), "reason": reason.strip()}
    )


def week_entries(person: Person, monday: date) -> QuerySet[TimeEntry]:
    """The entries of that week that count."""
    return TimeEntry.objects.filter(
        person=person, void=False, on_date__gte=monday, on_date__lt=monday + timedelta(days=7)
    )


def _standing(entry: TimeEntry, by: Person, reason: str) -> TimeEntry:
    old = TimeEntry.objects.select_related("phase__job", "change", "person").get(pk=entry.pk)
    if not may_correct(by, old):
        raise RefusedError("That entry is approved: the owner can still correct it.")
    if old.void:
        raise RefusedError("That entry was corrected already. Correct the one that stands in its place.")
    if old.is_running:
        raise RefusedError("That timer still runs: stop it first.")
    if not reason.strip():
        raise RefusedError("Say why it is corrected.")
    check_day(old.person, old.on_date)
    return old


def _check_moved(old: TimeEntry, by: Person, work: Work) -> None:
    if work.phase.job_id != old.phase.job_id:
        return check_work(work)
    if by.role == Role.OWNER:
        return None
    try:
        return check_work(work)
    except RefusedError as refused:
        raise RefusedError(f"{refused} The owner can still correct it.") from None


def _seconds(hours: Hours) -> int:
    if hours.started_at and hours.ended_at:
        check_instant(hours.started_at)
        check_instant(hours.ended_at)
        return length_of(hours.started_at, hours.ended_at)
    if not 0 < hours.seconds <= DAY:
        raise RefusedError("Hours of one day are over nothing and at most 24.", beside="hours")
    return in_steps(hours.seconds)
