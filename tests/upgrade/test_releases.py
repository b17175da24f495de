"""What an earlier release kept is brought up to this one, on either database, and everything can be read.

Each release leaves a copy made by itself here, of invented records: one of nearly everything it kept.
"""

from __future__ import annotations

import json
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.core.management import CommandError, call_command
from django.db import connection, models
from django.db.migrations.executor import MigrationExecutor
from django.test import Client as Browser
from django.urls import reverse

from jobs.append_only import VERBS, kept_models
from jobs.backup.archive import BackupError, restore_backup
from jobs.backup.schema import FIRST, schema_of
from jobs.models import Person, TimeEntry, Workshop
from jobs.told import kinds
from quotes.models import Invoice, IssuedDocument

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults]
HERE = Path(__file__).parent
RELEASES = sorted(HERE.glob("release_*.zip"))


@pytest.fixture(autouse=True)
def empty_place(settings: Any, tmp_path: Path) -> None:
    settings.DATA_DIR, settings.PHOTO_DIR = tmp_path, tmp_path / "photos"


def newest() -> dict[str, str]:
    """The last migration of each room in this code."""
    rooms = {room: Path(apps.get_app_config(room).path) / "migrations" for room in FIRST}
    return {room: max(at.stem for at in folder.glob("0*.py")) for room, folder in rooms.items()}


def opened(thing: models.Model) -> Iterator[str]:
    own = getattr(thing, "get_absolute_url", None)
    if own:
        yield own()


@pytest.mark.parametrize("copy", RELEASES, ids=lambda copy: copy.stem)
def test_a_release_is_brought_up_and_everything_can_be_read(copy: Path) -> None:
    back = restore_backup(copy)

    assert schema_of("default") == newest()
    assert back.rows == sum(back.facts.counts.values()) > 100
    for label, count in back.facts.counts.items():
        assert apps.get_model(label)._base_manager.count() == count
    browser = Browser()
    browser.force_login(Person.objects.get(name="Olive Owner"))
    for kind in kinds():
        for thing in kind.model._default_manager.all():
            for address in [*opened(thing), reverse("jobs:history", args=[kind.record, thing.pk])]:
                assert browser.get(address, follow=True).status_code == 200, address
    check_what_was_kept()


def check_what_was_kept() -> None:
    """A few facts of the copies of every release, and what a migration must not lose."""
    assert Workshop.objects.get().name == "Test Workshop"
    corrected = TimeEntry.objects.get(reason="Half an hour was lunch")
    assert (corrected.seconds, corrected.corrects.seconds) == (5400, 7200)
    invoice = Invoice.objects.exclude(number=None).get()
    assert sum(payment.amount for payment in invoice.payments.all()) == 100
    assert all(bytes(paper.content).startswith(b"%PDF") for paper in IssuedDocument.objects.all())
    with connection.cursor() as cursor:
        table = "pg_trigger" if connection.vendor == "postgresql" else "sqlite_master"
        column = "tgname" if connection.vendor == "postgresql" else "name"
        cursor.execute(f"SELECT {column} FROM {table}")
        laid = {row[0] for row in cursor.fetchall()}
    wanted = {f"{model._meta.db_table}_no_{verb.lower()}" for model in kept_models() for verb in VERBS}
    assert wanted <= laid


class PulledOutError(Exception):
    """The plug, at the worst moment: the tables are changed and nothing says so yet."""


def test_a_migration_that_was_interrupted_is_run_again(monkeypatch: pytest.MonkeyPatch) -> None:
    pulled: set[tuple[str, str]] = set()
    record = MigrationExecutor.record_migration

    def pull_once(self: MigrationExecutor, migration: Any) -> None:
        at = (migration.app_label, migration.name)
        if at[0] in FIRST and at not in pulled:
            pulled.add(at)
            raise PulledOutError
        record(self, migration)

    monkeypatch.setattr(MigrationExecutor, "record_migration", pull_once)
    for again in [lambda: restore_backup(RELEASES[0]), *[lambda: call_command("migrate", verbosity=0)] * 50]:
        try:
            again()
        except PulledOutError:
            continue
        break

    assert len(pulled) >= len(newest())
    assert schema_of("default") == newest()
    check_what_was_kept()


def with_schema(copy: Path, target: Path, schema: dict[str, str]) -> Path:
    """The same copy as if it had been made at another step."""
    shutil.copy(copy, target)
    with zipfile.ZipFile(copy) as old:
        parts = {name: old.read(name) for name in old.namelist()}
    parts["manifest.json"] = json.dumps(json.loads(parts["manifest.json"]) | {"schema": schema}).encode()
    with zipfile.ZipFile(target, "w") as new:
        for name, held in parts.items():
            new.writestr(name, held)
    return target


def test_a_copy_of_a_newer_kerfbook_is_refused_in_plain_words(tmp_path: Path) -> None:
    newer = with_schema(RELEASES[-1], tmp_path / "newer.zip", FIRST | {"jobs": "0999_as_yet_unknown"})
    with pytest.raises(CommandError, match=r"newer Kerfbook.*jobs 0999_as_yet_unknown.*Bring this one up"):
        call_command("restore", str(newer))
    assert schema_of("default") == newest()
    assert not Person.objects.exists()


def test_a_copy_that_does_not_fit_leaves_the_place_empty_and_up_to_date(tmp_path: Path) -> None:
    wrong = with_schema(RELEASES[0], tmp_path / "wrong.zip", newest())
    with pytest.raises(BackupError):
        restore_backup(wrong)
    assert schema_of("default") == newest()
    assert not Person.objects.exists()
