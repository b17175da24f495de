"""Who changed what? One line a change, written in the same transaction as the change."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db import models

from jobs.models import HistoryEntry, Job, Person

AT_A_TIME = 2000


def snapshot(thing: models.Model, fields: Iterable[str]) -> dict[str, str]:
    """The named fields as text, to be compared after the change."""
    return {name: str(getattr(thing, name)) for name in fields}


def record(
    *,
    person: Person | None,
    thing: models.Model,
    action: str,
    job: Job | None = None,
    before: dict[str, str] | None = None,
    after: dict[str, str] | None = None,
) -> HistoryEntry:
    """Write down who did what to which record, with the fields that differ."""
    return HistoryEntry.objects.create(
        person=person,
        job=job,
        record=thing._meta.model_name or "",
        record_id=thing.pk,
        action=action,
        changes=_differences(before or {}, after or {}),
    )


def record_all(
    *, person: Person, action: str, changes: Iterable[tuple[models.Model, dict[str, list[Any]]]]
) -> None:
    """Write down one action on many records at once: each with its fields, before and after."""
    rows = [
        HistoryEntry(
            person=person,
            record=thing._meta.model_name or "",
            record_id=thing.pk,
            action=action,
            changes=fields,
        )
        for thing, fields in changes
    ]
    HistoryEntry.objects.bulk_create(rows, batch_size=AT_A_TIME)


def _differences(before: dict[str, str], after: dict[str, str]) -> dict[str, list[Any]]:
    names = dict.fromkeys([*before, *after])
    return {
        name: [before.get(name), after.get(name)] for name in names if before.get(name) != after.get(name)
    }
