"""Killed in the middle of writing, nothing that was acknowledged is lost and the database opens clean.

KERFBOOK_KILLS sets how often (a hundred times takes some minutes).
"""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import psycopg
import pytest
from django.db import connection
from django.db.backends.sqlite3._functions import register

ROOT = Path(__file__).resolve().parents[2]
KILLS = int(os.environ.get("KERFBOOK_KILLS", "4"))
SET_UP = """
import django; django.setup()
from tests import make
from jobs.enums import JobState
make.workshop(); make.person(); make.phase(job=make.job(state=JobState.BENCH))
"""


@dataclass(frozen=True)
class Place:
    """Where the writer writes: SQLite in the folder, or a database of its own on the tests' PostgreSQL."""

    folder: Path
    server: str = ""

    @property
    def environment(self) -> dict[str, str]:
        return {
            **os.environ,
            "KERFBOOK_DATA_DIR": str(self.folder),
            "DATABASE_URL": self.server and f"{self.server}/{self.folder.name}",
            "DJANGO_SETTINGS_MODULE": "config.settings",
            "PYTHONPATH": str(ROOT),
        }

    def stored(self) -> set[str]:
        if self.server:
            with psycopg.connect(self.environment["DATABASE_URL"]) as database:
                return {str(row[0]) for row in database.execute("SELECT key FROM jobs_timeentry")}
        return {str(uuid.UUID(key)) for key in stored_in_sqlite(self.folder)}


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Place]:
    if connection.vendor != "postgresql":
        yield Place(tmp_path)
        return
    folder = tmp_path / f"killed_{uuid.uuid4().hex}"
    folder.mkdir()
    server = os.environ["DATABASE_URL"].rpartition("/")[0]
    with psycopg.connect(f"{server}/postgres", autocommit=True) as database:
        database.execute(f"CREATE DATABASE {folder.name}")
        yield Place(folder, server)
        database.execute(f"DROP DATABASE {folder.name} WITH (FORCE)")


def run(place: Place, *command: str) -> None:
    subprocess.run([sys.executable, *command], cwd=ROOT, env=place.environment, check=True)


def write_until_killed(place: Place, dice: random.Random) -> list[str]:
    """The keys that a writer acknowledged before it was killed without warning."""
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.faults.writer"],
        cwd=ROOT,
        env=place.environment,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert writer.stdout is not None
    first = writer.stdout.readline()
    time.sleep(dice.random() * 0.3)
    writer.send_signal(signal.SIGKILL)
    rest, _ = writer.communicate()
    return [line for line in (first + rest).split("\n") if len(line) == 36]


def stored_in_sqlite(folder: Path) -> set[str]:
    database = sqlite3.connect(folder / "kerfbook.sqlite3")
    register(database)  # a constraint on weeks asks for a function that Django brings
    try:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        return {row[0] for row in database.execute("SELECT key FROM jobs_timeentry")}
    finally:
        database.close()


@pytest.mark.faults
def test_what_was_acknowledged_is_there_after_a_kill(place: Place) -> None:
    run(place, "manage.py", "migrate", "--verbosity", "0")
    run(place, "-c", SET_UP)
    dice, acknowledged = random.Random(7), set[str]()
    for _ in range(KILLS):
        acknowledged |= set(write_until_killed(place, dice))
        assert acknowledged <= place.stored()
    assert len(acknowledged) >= KILLS
