"""A migration that is noted as done in the transaction that does it.

Django keeps some of its SQL, such as the indexes of a new table, for the end of a migration, and then notes
the migration as done in a second transaction. Pulled out in between, it would make the same table again at
the next start and fail. Run what was kept before the end, and Django notes it in the first.
"""

from __future__ import annotations

from typing import Any

from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.operations.base import Operation


class RunWhatWaits(Operation):
    """The last operation of a migration that makes a table, a key or an index."""

    reversible = True

    def state_forwards(self, app_label: str, state: Any) -> None:
        """No model changes."""

    def database_forwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: Any, to_state: Any
    ) -> None:
        for statement in schema_editor.deferred_sql:
            schema_editor.execute(statement, None)
        schema_editor.deferred_sql.clear()

    def database_backwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: Any, to_state: Any
    ) -> None:
        """Nothing waits on the way back, where this comes first."""

    def describe(self) -> str:
        return "Run what waits for the end"
