"""Of which records is the history told, to whom, and what else is told beside each?

Each room registers its own records when the program starts (`AppConfig.ready`), so that this room need not
know the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db import models
from django.urls import reverse

from jobs.enums import Role
from jobs.models import Person

EVERYBODY = frozenset({Role.OWNER, Role.MAKER, Role.BOOKKEEPER})
SEES_PRICES = frozenset({Role.OWNER, Role.BOOKKEEPER})
OWNER = frozenset({Role.OWNER})
Parts = Mapping[str, Iterable[int]]


@dataclass(frozen=True)
class Told:
    """A kind of record whose history is told.

    `parts` names the records told with it, a query a kind at most. `whole_job` tells all that was recorded
    for the job. `own` says whose one record is, where makers are told of their own alone. `leans_on` are the
    relations that its name takes, so that naming many takes one query.
    """

    model: type[models.Model]
    noun: str
    roles: frozenset[Role] = EVERYBODY
    parts: Callable[[Any], Parts] | None = None
    whole_job: bool = False
    own: Callable[[Any], int] | None = None
    back: Callable[[Any], str] | None = None
    nobody: str = "Kerfbook"
    leans_on: tuple[str, ...] = ()
    name: Callable[[Any], str] = str

    @property
    def record(self) -> str:
        """The word under which its changes were written down."""
        return str(self.model._meta.model_name)

    def names_of(self, ids: Iterable[int]) -> dict[int, str]:
        """What those records are called, as far as they are still there, in one query."""
        heavy = [at.name for at in self.model._meta.fields if isinstance(at, models.BinaryField)]
        found = self.model._default_manager.filter(pk__in=ids).defer(*heavy)
        if self.leans_on:
            found = found.select_related(*self.leans_on)
        return {thing.pk: self.name(thing) for thing in found}

    def may_see(self, viewer: Person, thing: models.Model) -> bool:
        """Whether the one record's history is told to this person."""
        is_theirs = viewer.sees_prices or self.own is None or self.own(thing) == viewer.pk
        return viewer.role in self.roles and is_theirs

    def address_of(self, thing: models.Model) -> str:
        """The page of the record."""
        if self.back:
            return self.back(thing)
        own: Callable[[], str] | None = getattr(thing, "get_absolute_url", None)
        return own() if own else reverse("jobs:list")


_told: dict[str, Told] = {}


def register(*kinds: Told) -> None:
    """From now on the history of these is told. A second kind of the same record replaces the first."""
    for kind in kinds:
        _told[kind.record] = kind


def told(record: str) -> Told | None:
    """The kind of that name, if its history is told."""
    return _told.get(record)


def kinds() -> list[Told]:
    """Every kind whose history is told."""
    return list(_told.values())
