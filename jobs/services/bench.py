"""Do what was said at the bench, whether by a form or by a phone's queue, and answer in the same words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any
from uuid import UUID

from django.db import transaction
from django.urls import reverse

from jobs import receipts
from jobs.models import CostEntry, Person, TimeEntry
from jobs.money import format_money
from jobs.photos import keep_photo
from jobs.queries.bench import entry_flags
from jobs.services.costs import Spent, log_cost
from jobs.services.hours import (
    Stored,
    Work,
    clock,
    length,
    log_hours,
    log_stretch,
    start_timer,
    stop_timer,
    switch_phase,
)
from jobs.services.notes import leave_note
from jobs.services.phone import Answer
from jobs.workshop import current_workshop

Said = Mapping[str, Any]


def start(person: Person, said: Said) -> Answer:
    """A timer runs."""
    stored = start_timer(person=person, key=said["key"], work=work_of(said), at=said.get("at"))
    return _timed(stored, f"Timer on {stored.row.phase} since {clock(_since(stored.row))}.")


def switch(person: Person, said: Said) -> Answer:
    """The running timer stopped and another runs."""
    stored = switch_phase(
        person=person,
        key=said["key"],
        work=work_of(said),
        at=said.get("at"),
        stops=said.get("stops"),
        stopped_at=said.get("stopped_at"),
        sure=bool(said.get("sure")),
    )
    return _timed(stored, f"Now on {stored.row.phase}, since {clock(_since(stored.row))}.")


def stop(person: Person, said: Said) -> Answer:
    """The timer stopped."""
    stored = stop_timer(
        person=person,
        timer=said["timer"],
        at=said.get("at"),
        sure=bool(said.get("sure")),
        note=said.get("note", ""),
    )
    return _timed(stored, f"{stored.row.phase}: {_length(stored.row)}.")


def stretch(person: Person, said: Said) -> Answer:
    """A stretch of work is in the book."""
    stored = log_stretch(
        person=person,
        key=said["key"],
        work=work_of(said),
        started_at=said["started_at"],
        ended_at=said["ended_at"],
    )
    return _timed(stored, f"{stored.row.phase}: {_length(stored.row)}.")


def hours(person: Person, said: Said) -> Answer:
    """Hours of a day are in the book; where to correct them is said as well."""
    stored = log_hours(
        person=person, key=said["key"], work=work_of(said), on_date=said["on_date"], seconds=said["hours"]
    )
    kept = "" if stored.row.seconds == said["hours"] else ", to the workshop's step"
    answer = _timed(stored, f"{stored.row.phase}: {_length(stored.row)}{kept}.")
    return {**answer, "correct": reverse("jobs:entry-correct", args=[stored.row.pk])}


@transaction.atomic
def cost(person: Person, said: Said) -> Answer:
    """A cost is in the ledger, with its picture. For an order of which all came, the order is received."""
    picture, number = said.get("photo"), said.get("order") or ""
    order = receipts.find(number)
    spent = Spent(
        net=said["net"],
        tax=said["tax"],
        on_date=said["on_date"],
        kind=said["kind"],
        supplier=said.get("supplier") or (order.supplier if order else ""),
        description=said.get("description", ""),
        photo=keep_photo(picture, person=person) if picture else None,
        source_ref=number,
    )
    stored = log_cost(person=person, key=said["key"], work=work_of(said), spent=spent)
    if number and stored.new:
        receipts.check(number, order, stored.row.phase)
        if said.get("all_came"):
            receipts.take_in(stored.row, person)
    words = f"{_paid(stored.row)} on {stored.row.phase}.{_of_order(number, said)}"
    return _answer(stored.row.pk, stored.row.key, words, _unagreed(stored.row))


def _of_order(number: str, said: Said) -> str:
    if not number:
        return ""
    return f" Order {number} is all here." if said.get("all_came") else f" Say at order {number} what came."


def note(person: Person, said: Said) -> Answer:
    """A note is with the phase."""
    picture = said.get("photo")
    stored = leave_note(
        person=person,
        key=said["key"],
        phase=said["phase"],
        text=said.get("text", ""),
        photo=keep_photo(picture, person=person) if picture else None,
        at=said.get("at"),
    )
    return _answer(stored.row.pk, stored.row.key, f"Note on {stored.row.phase}.", [])


ACTS: Mapping[str, Callable[[Person, Said], Answer]] = {
    "start": start,
    "switch": switch,
    "stop": stop,
    "stretch": stretch,
    "hours": hours,
    "cost": cost,
    "note": note,
}


def work_of(said: Said) -> Work:
    """The phase, the change and the note that were said."""
    return Work(phase=said["phase"], change=said.get("change"), note=said.get("note", ""))


def _timed(stored: Stored[TimeEntry], words: str) -> Answer:
    return _answer(stored.row.pk, stored.row.key, words, entry_flags(stored.row))


def _answer(pk: int, key: UUID, words: str, flags: list[str]) -> Answer:
    return {"stored": pk, "key": str(key), "words": words, "flags": flags}


def _unagreed(entry: CostEntry) -> list[str]:
    return [] if entry.change is None or entry.change.is_agreed else [f"{entry.change} is not yet agreed."]


def _since(entry: TimeEntry) -> Any:
    return entry.started_at


def _length(entry: TimeEntry) -> str:
    return f"{length(entry.seconds or 0)} h"


def _paid(entry: CostEntry) -> str:
    workshop = current_workshop()
    return format_money(entry.net + entry.tax, workshop.currency, workshop.locale)
