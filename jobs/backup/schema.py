"""At which step of its migrations was a copy made, and how does an empty database go there and back?

A copy made by an older Kerfbook is taken back at the step it was made at, proven equal there, and then
brought up by the same migrations that a running place would have gone through.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from django.apps import apps
from django.apps.registry import Apps
from django.core.management import call_command
from django.db import connections
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder

ROOMS = ("jobs", "materials", "quotes")
FIRST = dict.fromkeys(ROOMS, "0001_first")
"""Where copies stand that do not say: those of release 0.1."""
Schema = Mapping[str, str]


def schema_of(using: str) -> dict[str, str]:
    """The last migration of each room that this database went through."""
    gone_through = sorted(MigrationRecorder(connections[using]).applied_migrations())
    return {room: name for room, name in gone_through if room in ROOMS}


def newer_than_here(schema: Schema, using: str) -> list[str]:
    """The steps of a copy that this Kerfbook does not know."""
    known = MigrationExecutor(connections[using]).loader.disk_migrations
    return [f"{room} {name}" for room, name in sorted(schema.items()) if (room, name) not in known]


@contextmanager
def at_schema(schema: Schema, using: str) -> Iterator[Apps]:
    """The models as they were at that step, the empty database being there; it is brought up afterwards."""
    if dict(schema) == schema_of(using):
        yield apps
        return
    executor, steps = MigrationExecutor(connections[using]), sorted(schema.items())
    try:
        executor.migrate(steps)
        yield executor.loader.project_state(steps).apps
    finally:
        call_command("migrate", database=using, verbosity=0)
