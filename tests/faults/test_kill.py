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
from pathlib import Path

import pytest
from django.db.backends.sqlite3._functions import register

ROOT = Path(__file__).resolve().parents[2]
KILLS = int(os.environ.get("KERFBOOK_KILLS", "4"))
SET_UP = """
import django; django.setup()
from tests import make
from jobs.enums import JobState
make.workshop(); make.person(); make.phase(job=make.job(state=JobState.BENCH))
"""


def environment(folder: Path) -> dict[str, str]:
    return {
        **os.environ,
        "KERFBOOK_DATA_DIR": str(folder),
        "DATABASE_URL": "",
        "DJANGO_SETTINGS_MODULE": "config.settings",
        "PYTHONPATH": str(ROOT),
    }


def run(folder: Path, *command: str) -> None:
    subprocess.run([sys.executable, *command], cwd=ROOT, env=environment(folder), check=True)


def write_until_killed(folder: Path, dice: random.Random) -> list[str]:
    """The keys that a writer acknowledged before it was killed without warning."""
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.faults.writer"],
        cwd=ROOT,
        env=environment(folder),
        stdout=subprocess.PIPE,
        text=True,
    )
    assert writer.stdout is not None
    first = writer.stdout.readline()
    time.sleep(dice.random() * 0.3)
    writer.send_signal(signal.SIGKILL)
    rest, _ = writer.communicate()
    return [line for line in (first + rest).split("\n") if len(line) == 36]


def stored(folder: Path) -> set[str]:
    database = sqlite3.connect(folder / "kerfbook.sqlite3")
    register(database)  # a constraint on weeks asks for a function that Django brings
    try:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        return {row[0] for row in database.execute("SELECT key FROM jobs_timeentry")}
    finally:
        database.close()


@pytest.mark.faults
def test_what_was_acknowledged_is_there_after_a_kill(tmp_path: Path) -> None:
    run(tmp_path, "manage.py", "migrate", "--verbosity", "0")
    run(tmp_path, "-c", SET_UP)
    dice, acknowledged = random.Random(7), set[str]()
    for _ in range(KILLS):
        acknowledged |= {key.replace("-", "") for key in write_until_killed(tmp_path, dice)}
        assert acknowledged <= stored(tmp_path)
    assert len(acknowledged) >= KILLS
