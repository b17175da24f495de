"""The database refuses to rewrite a ledger, past every form and service."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.db import DatabaseError, connection, models, transaction

from jobs.append_only import kept_models
from jobs.models import BudgetEntry, CommitmentEntry, CostEntry, HistoryEntry, Phase
from tests import make

pytestmark = pytest.mark.django_db


def a_row_of(model: type[models.Model]) -> models.Model:
    phase = make.phase()
    fields: dict[type[models.Model], dict[str, Any]] = {
        BudgetEntry: {"phase": phase, "source": "quote", "source_ref": "Q1", "price": Decimal(5)},
        CommitmentEntry: {"phase": phase, "on_date": date(2026, 3, 2), "order_ref": "P1", "net": Decimal(5)},
        CostEntry: {"phase": phase, "on_date": date(2026, 3, 2), "net": Decimal(5), "person": make.person()},
        HistoryEntry: {"record": "phase", "record_id": phase.pk, "action": "made"},
    }
    return model._default_manager.create(**fields[model])


LEDGERS = [BudgetEntry, CommitmentEntry, CostEntry, HistoryEntry]


@pytest.mark.parametrize("model", LEDGERS)
def test_a_row_cannot_be_changed(model: type[models.Model]) -> None:
    row = a_row_of(model)
    column = "record_id" if model is HistoryEntry else "phase_id"
    with pytest.raises(DatabaseError, match="only ever added to"), transaction.atomic():
        connection.cursor().execute(
            f"UPDATE {model._meta.db_table} SET {column} = {column} WHERE id = {row.pk}"
        )


@pytest.mark.parametrize("model", LEDGERS)
def test_a_row_cannot_be_deleted(model: type[models.Model]) -> None:
    row = a_row_of(model)
    with pytest.raises(DatabaseError, match="only ever added to"), transaction.atomic():
        model._default_manager.filter(pk=row.pk).delete()
    assert model._default_manager.filter(pk=row.pk).exists()


def test_every_ledger_is_kept() -> None:
    assert set(LEDGERS) <= set(kept_models())


def test_other_tables_can_be_changed() -> None:
    phase = make.phase()
    assert Phase.objects.filter(pk=phase.pk).update(title="Bunk") == 1
