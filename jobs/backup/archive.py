"""One dated file that holds everything, with the hash of each part, and the way back."""

from __future__ import annotations

import hashlib
import json
import os
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from django.apps import apps
from django.apps.registry import Apps
from django.conf import settings
from django.core.exceptions import FieldDoesNotExist
from django.core.serializers.base import DeserializationError
from django.db import DEFAULT_DB_ALIAS, DatabaseError, connections, transaction

from jobs.backup.numbers import go_on_after, last_given
from jobs.backup.rows import Facts, digests_in, is_empty, read_rows, write_rows
from jobs.backup.schema import FIRST, at_schema, newer_than_here, schema_of
from jobs.backup.snapshot import snapshot
from jobs.photos import photo_path

FORMAT = 1
ROWS, MANIFEST, PHOTOS = "rows.jsonl", "manifest.json", "photos/"
SETTINGS = "settings.json"
SECRETS = ("SECRET", "PASSWORD", "DATABASE_URL")
LAST_GOOD = "last_backup.json"


class BackupError(Exception):
    """A copy could not be made or taken back; the words say why. What was there before is as it was."""


@dataclass(frozen=True)
class Restored:
    """What came back, proven equal to what was copied; `missing_photos` were not there to be copied."""

    rows: int
    photos: int
    facts: Facts
    missing_photos: Sequence[str] = ()


def make_backup(folder: Path, *, now: datetime | None = None, keep: int | None = None) -> Path:
    """Write one dated file with everything; with `keep`, only so many of the newest stay.

    The file appears under its name only when it is whole and on the disk. A photo whose file is gone or
    damaged does not hold it up: `last_good_backup` names it. Raises BackupError.
    """
    now = now or datetime.now(UTC)
    target = _free_name(folder, now)
    part = target.with_suffix(".part")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        missing = _write(part, now)
        check_backup(part)
        os.replace(part, target)
        _note_last_good(target, now, missing)
    except OSError as trouble:
        raise BackupError(f"The copy could not be written to {folder}: {trouble.strerror}.") from trouble
    except DatabaseError as trouble:
        raise BackupError(f"The database could not be read: {trouble}. Has “migrate” been run?") from trouble
    finally:
        part.unlink(missing_ok=True)
    if keep is not None:
        _drop_old(folder, keep, target)
    return target


def _free_name(folder: Path, now: datetime) -> Path:
    """A name no copy has yet: with the clock put back a second time comes round, and no copy may be lost."""
    target = folder / f"kerfbook-{now:%Y%m%d-%H%M%S}.zip"
    again = 1
    while target.exists():
        again += 1
        target = folder / f"kerfbook-{now:%Y%m%d-%H%M%S}-{again}.zip"
    return target


def _write(part: Path, now: datetime) -> list[str]:
    """Everything, and the manifest that says what it is; returns the photos that are missing."""
    with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as archive:
        with snapshot() as alias, archive.open(ROWS, "w", force_zip64=True) as rows:
            facts, numbers, photos = write_rows(rows, alias), last_given(alias), _known_photos(alias)
        for photo in _photos():
            archive.write(photo, PHOTOS + photo.relative_to(settings.PHOTO_DIR).as_posix())
        archive.writestr(SETTINGS, json.dumps(_settings(), indent=1))
    with part.open("r+b") as raw:
        with zipfile.ZipFile(raw, "a", zipfile.ZIP_DEFLATED) as archive:
            hashes = {name: _hash_of(archive, name) for name in archive.namelist()}
            missing = _missing(photos, hashes)
            manifest = {
                "format": FORMAT,
                "made_at": now.isoformat(),
                "database": connections[DEFAULT_DB_ALIAS].vendor,
                "schema": schema_of(DEFAULT_DB_ALIAS),
                "facts": asdict(facts),
                "numbers": numbers,
                "missing_photos": missing,
                "sha256": hashes,
            }
            archive.writestr(MANIFEST, json.dumps(manifest, indent=1))
        raw.flush()
        os.fsync(raw.fileno())
    return missing


def _known_photos(using: str, registry: Apps = apps) -> list[str]:
    """The photos that the rows tell of, by the hash of their content."""
    rows = registry.get_model("jobs", "photo")._base_manager.using(using)
    return list(rows.order_by("pk").values_list("sha256", flat=True))


def _missing(photos: Iterable[str], hashes: Mapping[str, str]) -> list[str]:
    """Those whose file is not in the copy, or is no longer the picture that was kept."""
    folder = Path(settings.PHOTO_DIR)
    parts = {sha256: PHOTOS + photo_path(sha256).relative_to(folder).as_posix() for sha256 in photos}
    return [sha256 for sha256, part in parts.items() if hashes.get(part) != sha256]


def _photos() -> list[Path]:
    folder: Path = settings.PHOTO_DIR
    return sorted(at for at in folder.rglob("*") if at.is_file()) if folder.exists() else []


def _settings() -> dict[str, str]:
    """The switches in force, without what must stay secret."""
    return {
        name: value
        for name, value in sorted(os.environ.items())
        if name.startswith("KERFBOOK_") and not any(word in name for word in SECRETS)
    }


def _hash_of(archive: zipfile.ZipFile, name: str) -> str:
    digest = hashlib.sha256()
    with archive.open(name) as member:
        while block := member.read(1 << 20):
            digest.update(block)
    return digest.hexdigest()


def check_backup(path: Path) -> dict[str, Any]:
    """The manifest of a copy, once each part has been found to have the hash written there."""
    try:
        with zipfile.ZipFile(path) as archive:
            manifest: dict[str, Any] = json.loads(archive.read(MANIFEST))
            if manifest["format"] != FORMAT:
                raise BackupError(
                    f"{path.name} is of format {manifest['format']}; this Kerfbook reads {FORMAT}."
                )
            for name, expected in manifest["sha256"].items():
                if _hash_of(archive, name) != expected:
                    raise BackupError(f"{path.name} is damaged: {name} is not what was written.")
    except (zipfile.BadZipFile, KeyError, ValueError, EOFError) as trouble:
        raise BackupError(f"{path.name} is no whole copy of a Kerfbook: {trouble}.") from trouble
    except FileNotFoundError as trouble:
        raise BackupError(f"There is no file {path}.") from trouble
    return manifest


def restore_backup(path: Path) -> Restored:
    """Take a copy back into an empty place and prove it equal. Raises BackupError, with nothing changed."""
    manifest = check_backup(path)
    if not is_empty(DEFAULT_DB_ALIAS):
        raise BackupError("This place is not empty. Restore into a new data folder or an empty database.")
    schema = manifest.get("schema", FIRST)
    if newer := newer_than_here(schema, DEFAULT_DB_ALIAS):
        raise BackupError(
            f"{path.name} was made by a newer Kerfbook (it has {', '.join(newer)}). "
            "Bring this one up to that version, then restore."
        )
    with zipfile.ZipFile(path) as archive, at_schema(schema, DEFAULT_DB_ALIAS) as registry:
        copied = Facts(**manifest["facts"])
        with archive.open(ROWS) as lines:
            copied.digests = digests_in(lines, copied.counts)
        back = _take_back(archive, copied, registry)
        missing = _missing(_known_photos(DEFAULT_DB_ALIAS, registry), manifest["sha256"])
    # once brought up: a migration that builds a table anew forgets the numbers of rows that are gone
    go_on_after(manifest.get("numbers", {}), DEFAULT_DB_ALIAS)
    return replace(back, missing_photos=missing)


@transaction.atomic
def _take_back(archive: zipfile.ZipFile, copied: Facts, registry: Apps) -> Restored:
    """Every row and photo, all or none, at the step of the migrations that the copy was made at."""
    rows = _read_rows(archive, registry)
    with open(os.devnull, "wb") as nowhere:
        found = write_rows(nowhere, DEFAULT_DB_ALIAS, registry)
    if differences := copied.differences(found):
        raise BackupError("What came back is not what was copied: " + "; ".join(differences))
    return Restored(rows=rows, photos=_unpack_photos(archive), facts=found)


def _read_rows(archive: zipfile.ZipFile, registry: Apps) -> int:
    try:
        with archive.open(ROWS) as lines:
            return read_rows(lines, DEFAULT_DB_ALIAS, registry)
    except (DeserializationError, DatabaseError, FieldDoesNotExist, LookupError, ValueError) as trouble:
        raise BackupError(f"A row of the copy does not fit this version of Kerfbook: {trouble}.") from trouble


def _unpack_photos(archive: zipfile.ZipFile) -> int:
    folder: Path = settings.PHOTO_DIR
    names = [name for name in archive.namelist() if name.startswith(PHOTOS)]
    for name in names:
        target = (folder / name.removeprefix(PHOTOS)).resolve()
        if not target.is_relative_to(folder.resolve()):
            raise BackupError(f"{name} would lie outside the photo folder.")
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(archive.read(name))
    return len(names)


def _drop_old(folder: Path, keep: int, just_made: Path) -> None:
    """Only so many of the newest stay, the one just made among them whatever the clock says."""
    others = sorted((at for at in folder.glob("kerfbook-*.zip") if at != just_made), reverse=True)
    for old in others[max(0, keep - 1) :]:
        old.unlink()


def _note_last_good(target: Path, now: datetime, missing: Sequence[str]) -> None:
    note = {
        "file": str(target),
        "made_at": now.isoformat(),
        "bytes": target.stat().st_size,
        "missing_photos": missing,
    }
    (settings.DATA_DIR / LAST_GOOD).write_text(json.dumps(note), encoding="utf-8")


@dataclass(frozen=True)
class LastGood:
    """When the last good copy was made, where it lies, and the hashes of the photos that it lacks."""

    file: str
    made_at: datetime
    bytes: int
    missing_photos: Sequence[str] = ()

    def days_old(self, now: datetime) -> int:
        return (now - self.made_at).days


def last_good_backup() -> LastGood | None:
    """What is known of the last good copy; nothing if there never was one."""
    try:
        note = json.loads((settings.DATA_DIR / LAST_GOOD).read_text(encoding="utf-8"))
        made_at, missing = datetime.fromisoformat(note["made_at"]), note.get("missing_photos", [])
        return LastGood(note["file"], made_at, note["bytes"], missing)
    except (OSError, ValueError, KeyError):
        return None
