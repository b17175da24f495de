"""A copy is whole, says when it is not, and comes back equal, into either database."""

from __future__ import annotations

import hashlib
import json
import zipfile
from datetime import UTC, date, datetime
from decimal import Decimal
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import DatabaseError
from django.test import Client as Browser
from django.urls import reverse

from jobs.backup import archive
from jobs.backup.archive import BackupError, last_good_backup, make_backup, restore_backup
from jobs.history import record
from jobs.models import BudgetEntry, CostEntry, Job, Outbox, OutboxAttachment, Person, Photo
from jobs.photos import keep_photo, photo_path, read_picture
from tests import make
from tests.pictures import picture

pytestmark = pytest.mark.django_db(transaction=True)
NOW = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def data_folder(settings: Any, tmp_path: Path) -> Path:
    settings.DATA_DIR = tmp_path / "data"
    settings.PHOTO_DIR = settings.DATA_DIR / "photos"
    settings.PHOTO_DIR.mkdir(parents=True)
    return settings.DATA_DIR


@pytest.fixture
def some_rows(data_folder: Path) -> None:
    make.workshop()
    person, phase = make.person("Ørsted £"), make.phase()
    BudgetEntry.objects.create(phase=phase, source="quote", source_ref="Q1", price=Decimal("1234.5678"))
    CostEntry.objects.create(phase=phase, on_date=date(2026, 3, 1), net=Decimal("0.10"), person=person)
    letter = Outbox.objects.create(key="k", to="c@example.org", subject="Your quote", text="…")
    OutboxAttachment.objects.create(letter=letter, name="q.pdf", content_type="x", content=b"\x00\xff%PDF")
    (data_folder / "photos" / "ab").mkdir()
    (data_folder / "photos" / "ab" / "ab12.jpg").write_bytes(b"\xff\xd8picture")


def empty_place(photos: Path) -> None:
    call_command("flush", interactive=False, verbosity=0)
    for photo in photos.rglob("*.jpg"):
        photo.unlink()


def test_everything_comes_back_as_it_was(some_rows: None, data_folder: Path, tmp_path: Path) -> None:
    job, entry = Job.objects.get(), BudgetEntry.objects.get()
    copy = make_backup(tmp_path / "copies", now=NOW)
    assert copy.name == "kerfbook-20260302-180000.zip"
    empty_place(data_folder / "photos")

    back = restore_backup(copy)

    assert back.rows == sum(back.facts.counts.values())
    assert back.photos == 1
    assert Job.objects.get().created_at == job.created_at
    assert BudgetEntry.objects.get() == entry
    assert back.facts.sums["jobs.budgetentry.price"] == "1234.5678"
    assert bytes(OutboxAttachment.objects.get().content) == b"\x00\xff%PDF"
    assert (data_folder / "photos" / "ab" / "ab12.jpg").read_bytes() == b"\xff\xd8picture"


def test_what_comes_after_a_restore_gets_a_new_number(
    some_rows: None, data_folder: Path, tmp_path: Path
) -> None:
    copy = make_backup(tmp_path / "copies", now=NOW)
    empty_place(data_folder / "photos")
    restore_backup(copy)
    assert make.job().pk not in {Job.objects.order_by("pk")[0].pk}
    with pytest.raises(DatabaseError, match="only ever added to"):
        BudgetEntry.objects.update(price=0)


def deleted_with_its_history() -> tuple[int, int]:
    """The number of a phase taken out, told in the history, and that of a letter nothing else tells of."""
    phase = make.phase(job=Job.objects.get())
    record(person=None, thing=phase, action="taken out")
    letter = make.letter()
    gone = phase.pk, letter.pk
    phase.delete()
    letter.delete()
    return gone


def test_after_a_restore_no_number_is_given_twice(some_rows: None, data_folder: Path, tmp_path: Path) -> None:
    phase, letter = deleted_with_its_history()
    copy = make_backup(tmp_path / "copies", now=NOW)
    empty_place(data_folder / "photos")
    restore_backup(copy)
    assert make.phase().pk > phase
    assert make.letter().pk > letter


def test_after_a_restore_of_an_older_copy_no_number_in_the_history_is_given_twice(
    some_rows: None, data_folder: Path, tmp_path: Path
) -> None:
    phase, _ = deleted_with_its_history()
    copy = make_backup(tmp_path / "copies", now=NOW)
    with zipfile.ZipFile(copy) as held:
        manifest: dict[str, Any] = json.loads(held.read("manifest.json"))
    del manifest["numbers"], manifest["missing_photos"]
    changed(copy, "manifest.json", json.dumps(manifest).encode())
    empty_place(data_folder / "photos")
    restore_backup(copy)
    assert make.phase().pk > phase


def photo_of(note_on: str) -> Photo:
    """A real picture with a note."""
    photo = keep_photo(read_picture(picture()), person=make.person(note_on))
    make.note(photo=photo)
    return photo


def test_a_real_photo_comes_back_and_is_shown(some_rows: None, data_folder: Path, tmp_path: Path) -> None:
    photo = photo_of("Ash")
    copy = make_backup(tmp_path / "copies", now=NOW)
    empty_place(data_folder / "photos")
    back = restore_backup(copy)
    assert (back.photos, back.missing_photos) == (2, [])
    browser = Browser()
    browser.force_login(Person.objects.get(name="Ash"))
    shown = browser.get(reverse("jobs:photo", args=[photo.sha256]))
    assert hashlib.sha256(b"".join(shown)).hexdigest() == photo.sha256


@pytest.mark.parametrize("damage", [Path.unlink, lambda path: path.write_bytes(b"half")])
def test_a_photo_that_is_gone_or_damaged_is_named_and_the_rest_copied(
    some_rows: None, data_folder: Path, tmp_path: Path, damage: Any
) -> None:
    photo = photo_of("Ash")
    damage(photo_path(photo.sha256))
    said, warned = StringIO(), StringIO()
    call_command("backup", to=tmp_path / "copies", stdout=said, stderr=warned)
    assert "Photos MISSING from it: 1." in warned.getvalue()
    assert f"{photo.sha256}.jpg" in warned.getvalue()
    assert "Ash" in warned.getvalue()
    last = last_good_backup()
    assert last is not None
    assert last.missing_photos == [photo.sha256]
    empty_place(data_folder / "photos")
    call_command("restore", last.file, stdout=said, stderr=warned)
    assert "Photos MISSING: 1." in warned.getvalue()


def test_a_place_in_use_is_refused(some_rows: None, tmp_path: Path) -> None:
    copy = make_backup(tmp_path / "copies", now=NOW)
    with pytest.raises(BackupError, match="not empty"):
        restore_backup(copy)


def changed(copy: Path, name: str, content: bytes) -> Path:
    """The same copy with one part replaced."""
    with zipfile.ZipFile(copy) as old:
        parts = {part: old.read(part) for part in old.namelist()}
    parts[name] = content
    with zipfile.ZipFile(copy, "w") as new:
        for part, held in parts.items():
            new.writestr(part, held)
    return copy


def test_a_damaged_copy_is_refused_before_anything_is_read(
    some_rows: None, data_folder: Path, tmp_path: Path
) -> None:
    copy = changed(make_backup(tmp_path / "copies", now=NOW), "rows.jsonl", b"")
    empty_place(data_folder / "photos")
    with pytest.raises(BackupError, match="damaged"):
        restore_backup(copy)
    assert not Person.objects.exists()


def test_a_copy_whose_facts_differ_leaves_the_place_empty(
    some_rows: None, data_folder: Path, tmp_path: Path
) -> None:
    copy = make_backup(tmp_path / "copies", now=NOW)
    with zipfile.ZipFile(copy) as held:
        manifest: dict[str, Any] = json.loads(held.read("manifest.json"))
    manifest["facts"]["sums"]["jobs.budgetentry.price"] = "1.00"
    changed(copy, "manifest.json", json.dumps(manifest).encode())
    empty_place(data_folder / "photos")
    with pytest.raises(BackupError, match=r"sum of jobs\.budgetentry\.price"):
        restore_backup(copy)
    assert not Person.objects.exists()


def test_rows_of_another_version_are_refused_and_leave_the_place_empty(
    some_rows: None, data_folder: Path, tmp_path: Path
) -> None:
    copy = make_backup(tmp_path / "copies", now=NOW)
    with zipfile.ZipFile(copy) as held:
        manifest, rows = json.loads(held.read("manifest.json")), held.read("rows.jsonl")
    rows += b'{"model": "jobs.client", "pk": 99, "fields": {"name": "A", "planed": true}}\n'
    manifest["sha256"]["rows.jsonl"] = hashlib.sha256(rows).hexdigest()
    changed(changed(copy, "rows.jsonl", rows), "manifest.json", json.dumps(manifest).encode())
    empty_place(data_folder / "photos")
    with pytest.raises(BackupError, match="does not fit this version"):
        restore_backup(copy)
    assert not Person.objects.exists()


def test_a_file_that_is_no_copy_is_refused(tmp_path: Path) -> None:
    other = tmp_path / "holiday.zip"
    other.write_bytes(b"not a zip")
    with pytest.raises(BackupError, match="no whole copy"):
        restore_backup(other)
    with pytest.raises(CommandError, match="no file"):
        call_command("restore", str(tmp_path / "nowhere.zip"))


def test_only_so_many_are_kept_and_the_last_is_remembered(some_rows: None, tmp_path: Path) -> None:
    for hour in (8, 9, 10):
        make_backup(tmp_path / "copies", now=NOW.replace(hour=hour), keep=2)
    assert [at.name[18:22] for at in sorted((tmp_path / "copies").iterdir())] == ["0900", "1000"]
    last = last_good_backup()
    assert last is not None
    assert last.days_old(NOW.replace(day=5, hour=10)) == 3


def test_a_failed_copy_leaves_no_file_and_the_last_good_one_known(
    some_rows: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_backup(tmp_path / "copies", now=NOW)

    def disk_full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(archive, "_photos", disk_full)
    with pytest.raises(BackupError, match="No space left"):
        make_backup(tmp_path / "copies", now=NOW.replace(hour=20))
    assert len(list((tmp_path / "copies").iterdir())) == 1
    last = last_good_backup()
    assert last is not None
    assert last.made_at == NOW


def test_secrets_stay_out(some_rows: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("KERFBOOK_SMTP_PASSWORD", "hush")
    monkeypatch.setenv("KERFBOOK_URL", "https://kerf.example")
    with zipfile.ZipFile(make_backup(tmp_path / "copies", now=NOW)) as copy:
        assert json.loads(copy.read("settings.json"))["KERFBOOK_URL"] == "https://kerf.example"
        assert b"hush" not in copy.read("settings.json")


def test_the_commands_say_what_was_done(some_rows: None, data_folder: Path, tmp_path: Path) -> None:
    said = StringIO()
    call_command("backup", to=tmp_path / "copies", stdout=said)
    assert "checked" in said.getvalue()
    empty_place(data_folder / "photos")
    call_command("restore", str(next((tmp_path / "copies").iterdir())), stdout=said)
    assert "equal to the copy's" in said.getvalue()
