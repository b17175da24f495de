"""Which tables are only ever added to? The database itself refuses to change or delete their rows.

A bug in the program, or a hand in the database's own shell, then cannot rewrite what was agreed or spent. The
triggers are laid after every migration, since SQLite drops them when it rebuilds a table.
"""

from __future__ import annotations

from typing import Any

from django.apps import AppConfig
from django.db import connections, models
from django.db.backends.base.base import BaseDatabaseWrapper

_kept: dict[str, list[type[models.Model]]] = {}
VERBS = ("UPDATE", "DELETE")


def keep_append_only(*kept: type[models.Model]) -> None:
    """Name models whose rows must never change; called by a room when it is ready."""
    for model in kept:
        room = _kept.setdefault(model._meta.app_label, [])
        if model not in room:
            room.append(model)


def kept_models() -> list[type[models.Model]]:
    """Every model named so far."""
    return [model for room in _kept.values() for model in room]


def lay_triggers(sender: AppConfig, using: str, **signal: Any) -> None:
    """After a migration of a room, protect its append-only tables."""
    connection = connections[using]
    present = set(connection.introspection.table_names())
    for model in _kept.get(sender.label, []):
        if model._meta.db_table in present:
            protect(connection, model._meta.db_table)


def protect(connection: BaseDatabaseWrapper, table: str) -> None:
    """From here on the database refuses to change or delete a row of the table."""
    unprotect(connection, table)
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(_POSTGRESQL_FUNCTION)
            for verb in VERBS:
                cursor.execute(
                    f'CREATE TRIGGER "{_name(table, verb)}" BEFORE {verb} ON "{table}" '
                    "FOR EACH ROW EXECUTE FUNCTION kerfbook_append_only()"
                )
            return
        for verb in VERBS:
            cursor.execute(
                f'CREATE TRIGGER "{_name(table, verb)}" BEFORE {verb} ON "{table}" '
                f"BEGIN SELECT RAISE(ABORT, '{table} is only ever added to'); END"
            )


def unprotect(connection: BaseDatabaseWrapper, table: str) -> None:
    """Let rows of the table be replaced: for restoring a backup into an empty place, and for tests."""
    on_table = f' ON "{table}"' if connection.vendor == "postgresql" else ""
    with connection.cursor() as cursor:
        for verb in VERBS:
            cursor.execute(f'DROP TRIGGER IF EXISTS "{_name(table, verb)}"{on_table}')


def _name(table: str, verb: str) -> str:
    return f"{table}_no_{verb.lower()}"


_POSTGRESQL_FUNCTION = """
CREATE OR REPLACE FUNCTION kerfbook_append_only() RETURNS trigger AS $$
BEGIN
  RAISE EXCEPTION '% is only ever added to', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END
$$ LANGUAGE plpgsql
"""
