"""One instant of the database, read while others go on writing."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.db import connections, transaction

ALIAS = "snapshot"


@contextmanager
def snapshot(using: str = "default") -> Iterator[str]:
    """The alias of a database that stands still while it is read.

    SQLite: a copy by its online backup, which blocks no writer. PostgreSQL: a repeatable read.
    """
    reader = _copied_sqlite if connections[using].vendor == "sqlite" else _repeatable_read
    with reader(using) as alias:
        yield alias


@contextmanager
def _copied_sqlite(using: str) -> Iterator[str]:
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "snapshot.sqlite3"
        connections[using].ensure_connection()
        target = sqlite3.connect(copy)
        with target:
            connections[using].connection.backup(target)
        target.close()
        reader = type(connections[using])({**connections[using].settings_dict, "NAME": str(copy)}, using)
        connections[ALIAS] = reader
        try:
            yield ALIAS
        finally:
            reader.close()
            del connections[ALIAS]


@contextmanager
def _repeatable_read(using: str) -> Iterator[str]:
    with transaction.atomic(using=using), connections[using].cursor() as cursor:
        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield using
