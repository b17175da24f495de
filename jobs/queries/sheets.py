"""Who worked how long in a week, and what on the sheet wants a second look?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.db.models import Min, Q, QuerySet, Sum
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils import timezone

from jobs.exports import Cell, Table
from jobs.models import LockedWeek, Person, TimeEntry
from jobs.money import round_half_up
from jobs.progress import average_week
from jobs.progress.stretches import (
    HOUR,
    LONG_DAY,
    REFERENCE_WEEKS,
    WEEK_LIMIT,
    long_days,
    overlapping,
    seconds_by_day,
)
from jobs.queries.bench import change_words, stretches_of, when_of
from jobs.services.hours import is_forgotten, length
from jobs.services.sheets import may_correct

HEADS = (
    "Person", "Day", "Job", "Phase", "Change", "From", "To", "Hours", "Note", "Approved", "Corrected because",
)  # fmt: skip
MONEY_HEADS = ("Cost of an hour", "Cost")


@dataclass(frozen=True)
class Week:
    """A week by ISO 8601, and the two beside it."""

    monday: date

    @property
    def sunday(self) -> date:
        return self.monday + timedelta(days=6)

    @property
    def days(self) -> tuple[date, ...]:
        return tuple(self.monday + timedelta(days=at) for at in range(7))

    @property
    def before(self) -> Week:
        return Week(self.monday - timedelta(days=7))

    @property
    def after(self) -> Week:
        return Week(self.monday + timedelta(days=7))

    @property
    def number(self) -> int:
        return self.monday.isocalendar().week

    @property
    def year(self) -> int:
        return self.monday.isocalendar().year

    @property
    def is_to_come(self) -> bool:
        return self.monday > timezone.localdate()

    @property
    def word(self) -> str:
        """2026-W48, as an address has it."""
        return f"{self.year}-W{self.number:02d}"


@dataclass(frozen=True)
class PersonWeek:
    """A person's week in one row."""

    person: Person
    by_day: tuple[tuple[date, int], ...]
    total: int
    standing: str
    warnings: int


@dataclass(frozen=True)
class SheetsPage:
    """Everybody's week."""

    week: Week
    rows: tuple[PersonWeek, ...]
    total: int


@dataclass(frozen=True)
class SheetRow:
    """An entry on a sheet, with what it replaces."""

    entry: TimeEntry
    when: str
    change: str
    was: str
    flags: tuple[str, ...]
    can_correct: bool
    can_end: bool


@dataclass(frozen=True)
class SheetDay:
    """One day of a sheet."""

    day: date
    rows: tuple[SheetRow, ...]
    seconds: int
    is_long: bool


@dataclass(frozen=True)
class WeekAverage:
    """Hours a week on average over the weeks up to this one, as far as this book knows them."""

    hours: Decimal
    weeks: int

    @property
    def is_over(self) -> bool:
        """Over the 48 hours of Directive 2003/88/EC, article 6 (b)."""
        return self.hours * HOUR > WEEK_LIMIT


@dataclass(frozen=True)
class SheetPage:
    """One person's week."""

    person: Person
    week: Week
    days: tuple[SheetDay, ...]
    total: int
    cost: Decimal
    standing: str
    warnings: tuple[str, ...]
    average: WeekAverage | None
    voided: tuple[TimeEntry, ...] = field(default=())


def week_of(word: str) -> Week:
    """The week that 2026-W48 names, 404 for none; nothing is this week."""
    if not word:
        today = timezone.localdate()
        return Week(today - timedelta(days=today.weekday()))
    try:
        return Week(date.fromisoformat(f"{word}-1"))
    except ValueError:
        raise Http404 from None


def get_sheet_person_for(viewer: Person, pk: int) -> Person:
    """Whose sheet: a maker has their own alone, and is told of no other."""
    if not viewer.sees_prices and viewer.pk != pk:
        raise Http404
    return get_object_or_404(Person, pk=pk)


def get_entry_for(viewer: Person, pk: int) -> TimeEntry:
    """The entry; a maker is told of their own alone."""
    found = TimeEntry.objects.select_related("phase__job", "change", "person")
    if not viewer.sees_prices:
        found = found.filter(person=viewer)
    return get_object_or_404(found, pk=pk)


def sheets_page(viewer: Person, week: Week) -> SheetsPage:
    """Three queries: who, their entries, and which weeks are locked."""
    worked = TimeEntry.objects.filter(on_date__range=_span(week)).values("person")
    people = Person.objects.filter(Q(is_active=True) | Q(pk__in=worked))
    if not viewer.sees_prices:
        people = people.filter(pk=viewer.pk)
    shown = list(people.order_by("name"))
    by_person: dict[int, list[TimeEntry]] = defaultdict(list)
    for entry in _in_outline(week).filter(person__in=[person.pk for person in shown]):
        by_person[entry.person_id].append(entry)
    locked = set(LockedWeek.objects.filter(monday=week.monday).values_list("person_id", flat=True))
    rows = tuple(_person_week(one, by_person[one.pk], week, one.pk in locked) for one in shown)
    return SheetsPage(week, rows, sum(row.total for row in rows))


def sheet_page(viewer: Person, person: Person, week: Week) -> SheetPage:
    """Three queries: the week's entries with what they stand for, the weeks before, whether it is locked."""
    entries = list(_entries(week, standing=False).filter(person=person))
    standing = [entry for entry in entries if not entry.void]
    locked = LockedWeek.objects.filter(person=person, monday=week.monday).exists()
    shared = overlapping(stretches_of(standing, timezone.now()))
    rows: dict[date, list[SheetRow]] = defaultdict(list)
    for entry in standing:
        rows[entry.on_date].append(_sheet_row(entry, viewer, shared, locked=locked))
    return SheetPage(
        person=person,
        week=week,
        days=tuple(_sheet_day(day, rows[day]) for day in week.days if rows[day]),
        total=sum(entry.seconds or 0 for entry in standing),
        cost=cost_of(standing),
        standing=_standing(standing, locked),
        warnings=tuple(_warnings(standing)),
        average=week_average(person, week),
        voided=tuple(one for one in entries if one.void and not hasattr(one, "corrected_by")),
    )


def week_average(person: Person, week: Week) -> WeekAverage | None:
    """Over the reference period that ends with this week, or since the first entry in it; one query."""
    first_day = week.monday - timedelta(weeks=REFERENCE_WEEKS - 1)
    entries = TimeEntry.objects.filter(person=person, void=False, on_date__range=(first_day, week.sunday))
    found = entries.aggregate(worked=Sum("seconds"), first=Min("on_date"))
    if not found["worked"]:
        return None
    weeks = (week.sunday - found["first"]).days // 7 + 1
    worked = Decimal(found["worked"]) / HOUR
    return WeekAverage(average_week(worked=worked, made_up=Decimal(0), weeks=weeks), weeks)


def sheet_table(viewer: Person, people: Sequence[Person], week: Week) -> Table:
    """The standing entries of the week as a table; money only for who sees it. One query."""
    entries = _entries(week).filter(person__in=people).order_by("person__name", "on_date", "started_at", "pk")
    heads = (*HEADS, *MONEY_HEADS) if viewer.sees_prices else HEADS
    rows = [_table_row(entry, money=viewer.sees_prices) for entry in entries]
    return Table(f"Hours {week.word}", heads, rows)


def cost_of(entries: Iterable[TimeEntry]) -> Decimal:
    """What these hours cost, each at its own rate, rounded once."""
    exact = sum((Decimal(entry.seconds or 0) * entry.cost_rate / HOUR for entry in entries), Decimal(0))
    return round_half_up(exact, 2)


def _span(week: Week) -> tuple[date, date]:
    return week.monday, week.sunday


def _entries(week: Week, *, standing: bool = True) -> QuerySet[TimeEntry]:
    entries = TimeEntry.objects.filter(on_date__range=_span(week))
    if standing:
        entries = entries.filter(void=False)
    return entries.select_related(
        "person", "phase__job", "change", "corrects__phase", "corrected_by", "approved_by"
    ).order_by("on_date", "started_at", "pk")


def _in_outline(week: Week) -> QuerySet[TimeEntry]:
    """As much of the week's entries as adding up and warning needs."""
    entries = TimeEntry.objects.filter(on_date__range=_span(week), void=False).select_related("change")
    return entries.only(
        "person", "on_date", "started_at", "ended_at", "seconds", "cost_rate", "approved_at", "change__state"
    )


def _person_week(person: Person, entries: list[TimeEntry], week: Week, locked: bool) -> PersonWeek:
    by_day = seconds_by_day(stretches_of(entries, timezone.now()))
    return PersonWeek(
        person=person,
        by_day=tuple((day, by_day.get(day, 0)) for day in week.days),
        total=sum(by_day.values()),
        standing=_standing(entries, locked),
        warnings=len(list(_warnings(entries))),
    )


def _standing(entries: Sequence[TimeEntry], locked: bool) -> str:
    if locked:
        return "locked"
    if not entries:
        return ""
    waiting = [entry for entry in entries if entry.approved_at is None]
    if not waiting:
        return "approved"
    return "to approve" if len(waiting) == len(entries) else "partly approved"


def _warnings(entries: Sequence[TimeEntry]) -> Iterable[str]:
    """What wants a second look. It warns and never stops anybody."""
    now = timezone.now()
    stretches = stretches_of(entries, now)
    shared = overlapping(stretches)
    if shared:
        yield f"{len(shared)} entries share time."
    for day, seconds in long_days(stretches).items():
        yield f"{day:%A} has {seconds / HOUR:.1f} hours, more than {LONG_DAY // HOUR}."
    total = sum(one.seconds for one in stretches)
    if total > WEEK_LIMIT:
        yield f"The week has {total / HOUR:.1f} hours, more than {WEEK_LIMIT // HOUR}."
    if any(entry.cost_rate == 0 for entry in entries):
        yield "Some hours cost nothing: no rate was set for that day."
    if any(entry.change and not entry.change.is_agreed for entry in entries):
        yield "Some hours are for a change that is not yet agreed."
    for entry in entries:
        if is_forgotten(entry, now):
            began = timezone.localtime(entry.started_at)
            yield f"A timer has run since {began:%H:%M on %A}. Was it forgotten?"


def _sheet_row(entry: TimeEntry, viewer: Person, shared: set[int], *, locked: bool) -> SheetRow:
    flags = []
    if entry.pk in shared:
        flags.append("shares time")
    if entry.seconds == 0:
        flags.append("rounded to nothing")
    old = entry.corrects
    return SheetRow(
        entry=entry,
        when=when_of(entry),
        change=change_words(entry.change),
        was=_was(old) if old else "",
        flags=tuple(flags),
        can_correct=not locked and not entry.is_running and may_correct(viewer, entry),
        can_end=entry.is_running and viewer.is_owner,
    )


def _was(old: TimeEntry) -> str:
    return f"{length(old.seconds or 0)} on {old.phase.title}, {old.on_date:%-d %b}"


def _sheet_day(day: date, rows: list[SheetRow]) -> SheetDay:
    seconds = sum(row.entry.seconds or 0 for row in rows)
    return SheetDay(day, tuple(rows), seconds, seconds > LONG_DAY)


def _table_row(entry: TimeEntry, *, money: bool) -> list[Cell]:
    row: list[Cell] = [
        entry.person.name,
        entry.on_date,
        f"{entry.phase.job.number} {entry.phase.job.title}",
        entry.phase.title,
        change_words(entry.change),
        _clock(entry.started_at),
        _clock(entry.ended_at),
        round_half_up(entry.hours, 2),
        entry.note,
        entry.approved_by.name if entry.approved_by else "",
        entry.reason,
    ]
    return [*row, entry.cost_rate, cost_of([entry])] if money else row


def _clock(instant: datetime | None) -> str:
    return f"{timezone.localtime(instant):%H:%M}" if instant else ""
