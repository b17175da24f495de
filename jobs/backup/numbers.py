"""Which number did the last row of each kind get, so that none is ever given to another thing?

The history and the outbox know a record by its number alone: a new phase that got the number of one taken out
would be told as if it had been that one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from django.db import connections, models
from django.db.models import Max

from jobs.backup.rows import kept_rows
from jobs.models import HistoryEntry

SQLITE, POSTGRESQL = "sqlite", "postgresql"


def last_given(using: str) -> dict[str, int]:
    """The last number given in each table that counts its rows, be the row there or not."""
    connection = connections[using]
    given: dict[str, int] = {}
    with connection.cursor() as cursor:
        for model in _counted():
            if connection.vendor == SQLITE:
                cursor.execute("SELECT seq FROM sqlite_sequence WHERE name = %s", [model._meta.db_table])
            else:
                cursor.execute(f"SELECT pg_sequence_last_value({_SEQUENCE}::regclass)", _counter(model))
            row = cursor.fetchone()
            given[model._meta.label_lower] = (row and row[0]) or 0
    return given


def go_on_after(given: Mapping[str, int], using: str) -> None:
    """The next row of each kind gets a number that neither the copy nor the history knows.

    Copies of earlier versions do not say which were given: there the history alone is asked.
    """
    told = dict(HistoryEntry.objects.using(using).order_by().values_list("record").annotate(Max("record_id")))
    for model in _counted():
        wanted = max(given.get(model._meta.label_lower, 0), told.get(model._meta.model_name, 0))
        if wanted:
            _count_from(model, wanted, using)


_SEQUENCE = "pg_get_serial_sequence(%s, %s)"


def _counted() -> Iterator[type[models.Model]]:
    return (model for model in kept_rows() if isinstance(model._meta.pk, models.AutoField))


def _counter(model: type[models.Model]) -> list[str | None]:
    return [model._meta.db_table, model._meta.pk.column]


def _count_from(model: type[models.Model], number: int, using: str) -> None:
    """The next row's number is over this one; it never goes back."""
    connection, table = connections[using], model._meta.db_table
    last = max(number, model._base_manager.using(using).aggregate(last=Max("pk"))["last"] or 0)
    with connection.cursor() as cursor:
        if connection.vendor == SQLITE:
            cursor.execute("DELETE FROM sqlite_sequence WHERE name = %s", [table])
            cursor.execute("INSERT INTO sqlite_sequence (name, seq) VALUES (%s, %s)", [table, last])
        else:
            cursor.execute(f"SELECT setval({_SEQUENCE}, %s)", [*_counter(model), last])
