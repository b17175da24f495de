"""Who changed what in a record, and when? The newest first, in words; to a maker without the money."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.core.exceptions import PermissionDenied
from django.core.paginator import Page, Paginator
from django.db import models
from django.db.models import Q
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.urls import reverse

from jobs.models import CostEntry, HistoryEntry, Job, Person, TimeEntry
from jobs.queries.history_words import Changed, changed_fields
from jobs.told import Told, kinds, told

A_PAGE = 40
OWN_ALONE: Mapping[str, type[TimeEntry | CostEntry]] = {"timeentry": TimeEntry, "costentry": CostEntry}


@dataclass(frozen=True)
class Step:
    """One line of a history: who did what when, to which record, and the fields that differ."""

    at: datetime
    who: str
    action: str
    about: str
    changed: tuple[Changed, ...]


@dataclass(frozen=True)
class HistoryPage:
    """The history of one record and of what is told beside it."""

    kind: Told
    thing: models.Model
    back: str
    page: Page[Any]
    steps: tuple[Step, ...]
    without_money: bool

    @property
    def address(self) -> str:
        """Where the history stands by itself; within another page its own links lead there."""
        return reverse("jobs:history", args=[self.kind.record, self.thing.pk])


def history_page(viewer: Person, record: str, pk: int, number: str | None) -> HistoryPage:
    """A page of a record's history, in a number of queries that does not grow with it.

    404 for what is not told or not there, 403 for what is not told to this person.
    """
    kind = told(record)
    if kind is None:
        raise Http404
    if viewer.role not in kind.roles:
        raise PermissionDenied
    thing = get_object_or_404(kind.model._default_manager, pk=pk)
    if not kind.may_see(viewer, thing):
        raise Http404
    entries = HistoryEntry.objects.filter(_of(kind, thing)).filter(_told_to(viewer)).select_related("person")
    # in the order they were written, which a clock that was put back does not change
    page = Paginator(entries.order_by("-pk"), A_PAGE).get_page(number)
    return HistoryPage(
        kind=kind,
        thing=thing,
        back=kind.address_of(thing),
        page=page,
        steps=tuple(_steps(list(page.object_list), kind, thing, viewer)),
        without_money=not viewer.sees_prices,
    )


def _of(kind: Told, thing: models.Model) -> Q:
    """The entries of a record and of its parts."""
    wanted = Q(record=kind.record, record_id=thing.pk)
    if kind.whole_job and isinstance(thing, Job):
        wanted |= Q(job=thing)
    for record, ids in (kind.parts(thing) if kind.parts else {}).items():
        wanted |= Q(record=record, record_id__in=ids)
    return wanted


def _told_to(viewer: Person) -> Q:
    """What this person is told of at all: the kinds of their role, and of others' hours and costs nothing."""
    seen = Q(record__in=[kind.record for kind in kinds() if viewer.role in kind.roles])
    return seen if viewer.sees_prices else seen & (~Q(record__in=OWN_ALONE) | _of_own_entries(viewer))


def _of_own_entries(viewer: Person) -> Q:
    """By whose entry it is, whoever changed it: the maker whose hours were cut reads who cut them."""
    own = Q()
    for record, model in OWN_ALONE.items():
        own |= Q(record=record, record_id__in=model.objects.filter(person=viewer).values("pk"))
    return own


def _steps(entries: list[HistoryEntry], kind: Told, thing: models.Model, viewer: Person) -> Iterable[Step]:
    names = _names(entries, kind, thing)
    for entry in entries:
        about = told(entry.record) or kind
        yield Step(
            at=entry.at,
            who=entry.person.name if entry.person else about.nobody,
            action=entry.action,
            about=names.get((entry.record, entry.record_id), about.noun),
            changed=changed_fields(about.model, entry.changes, money=viewer.sees_prices),
        )


def _names(entries: list[HistoryEntry], kind: Told, thing: models.Model) -> Mapping[tuple[str, int], str]:
    """What each record is called, a query a kind; the record itself goes without saying."""
    ids: dict[str, set[int]] = defaultdict(set)
    for entry in entries:
        ids[entry.record].add(entry.record_id)
    names: dict[tuple[str, int], str] = {}
    for record, wanted in ids.items():
        about = told(record)
        if about is not None:
            names |= {(record, pk): f"{about.noun}: {name}" for pk, name in about.names_of(wanted).items()}
    names[kind.record, thing.pk] = ""
    return names
