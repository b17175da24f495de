"""Has somebody else saved meanwhile? Then the later save is refused, and both versions are shown."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, Protocol, TypeVar, cast

from django.db import models, transaction

from jobs.history import record, snapshot
from jobs.models import Job, Person


class Versioned(Protocol):
    """A record that counts its saves."""

    version: int
    pk: Any


V = TypeVar("V", bound=models.Model)


class StaleError(Exception):
    """Somebody else saved first. `stored` is the record as it stands."""

    def __init__(self, stored: models.Model) -> None:
        super().__init__("Somebody else has saved this meanwhile.")
        self.stored = stored


@transaction.atomic
def save_edit(
    thing: V,
    *,
    version: int,
    details: Mapping[str, Any],
    person: Person,
    job: Job | None = None,
    unspoken: Collection[str] = (),
) -> V:
    """The named fields hold what was typed, and the history says who changed them.

    Refused when the record is no longer at the version that was edited, unless it already says the same: a
    form sent twice changes nothing the second time. `unspoken` fields are saved but not told in the history.
    """
    stored = type(thing)._default_manager.select_for_update().get(pk=thing.pk)
    if all(getattr(stored, name) == value for name, value in details.items()):
        return stored
    if cast(Versioned, stored).version != version:
        raise StaleError(stored)
    told = [name for name in details if name not in unspoken]
    before = snapshot(stored, told)
    for name, value in details.items():
        setattr(stored, name, value)
    cast(Versioned, stored).version += 1
    stored.full_clean(exclude={field.name for field in stored._meta.fields} - set(details))
    stored.save(update_fields=[*details, "version"])
    record(person=person, thing=stored, action="edited", job=job, before=before, after=snapshot(stored, told))
    return stored
