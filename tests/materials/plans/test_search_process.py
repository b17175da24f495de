"""The search in a process of its own: started by planning, heard of, stopped, missed when it is killed.

Database and child are real, so that what is tested is what runs in a workshop. The test looks into the
database past the program, so that it waits for nothing but the search.
"""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings

from materials.models import CuttingPlan
from materials.queries.plan_pages import SILENCE, has_died

PLAN_SIXTY_PARTS = """
from random import Random
from materials.queries.plan_tasks import SawSettings
from materials.services.plans import plan_cutting
from tests import make
make.workshop()
job = make.job()
ply = make.sheet((24400, 12200, "78.00"))
sizes = Random(0)
pieces = [(sizes.randint(2000, 11000), sizes.randint(1500, 6000), 1) for _ in range(60)]
make.taken_off(ply, *pieces, phase=make.phase(job=job))
plan_cutting(job=job, person=make.person(), settings={ply.pk: SawSettings(seconds=90)})
"""
ROW = "SELECT state, run, cost, progress, stop_asked, heard_at FROM materials_cuttingplan"


@dataclass
class Bench:
    """A database of its own with one plan being searched."""

    folder: Path

    @property
    def file(self) -> Path:
        return self.folder / "search.sqlite3"

    def manage(self, *arguments: str) -> None:
        own = {"DATABASE_URL": f"sqlite:///{self.file}", "KERFBOOK_DATA_DIR": str(self.folder)}
        command = [sys.executable, str(settings.BASE_DIR / "manage.py"), *arguments]
        environment = {**os.environ, **own, "PYTHONPATH": str(settings.BASE_DIR)}
        subprocess.run(command, env=environment, cwd=settings.BASE_DIR, check=True)

    def row(self) -> dict[str, Any]:
        with sqlite3.connect(self.file, timeout=20) as database:
            database.row_factory = sqlite3.Row
            return dict(database.execute(ROW).fetchone())

    def ask_to_stop(self) -> None:
        with sqlite3.connect(self.file, timeout=20) as database:
            database.execute("UPDATE materials_cuttingplan SET stop_asked = 1")

    def wait_until(self, what: Callable[[dict[str, Any]], bool], seconds: float = 60) -> dict[str, Any]:
        until = time.monotonic() + seconds
        while not what(found := self.row()):
            assert time.monotonic() < until, f"waited in vain: {found}"
            time.sleep(0.2)
        return found


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    """Sixty parts, searched for a minute and a half unless somebody stops it.

    They cover 98 % of five sheets: half a minute brings neither a plan of five nor a proof that it takes six.
    """
    made = Bench(tmp_path)
    made.manage("migrate", "-v0")
    made.manage("shell", "-v0", "-c", PLAN_SIXTY_PARTS)
    return made


def searches(run: str) -> list[int]:
    """The processes of a run that are alive."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            line = (folder / "cmdline").read_bytes().replace(b"-", b"")
        except OSError:  # it has just ended
            continue
        if run.encode() in line:
            found.append(int(folder.name))
    return found


def test_a_search_is_stopped_with_what_it_has(bench: Bench) -> None:
    first = bench.row()
    assert first["state"] == "running"
    assert first["cost"], "there is a plan before any search"
    running = bench.wait_until(lambda row: bool(row["progress"]))
    assert searches(running["run"])
    bench.ask_to_stop()
    ended = bench.wait_until(lambda row: row["state"] != "running", seconds=20)
    assert ended["state"] == "stopped"
    bench.wait_until(lambda row: row["run"] is None, seconds=20)
    assert 0 < ended["cost"] <= first["cost"]


def test_a_search_that_is_killed_is_missed(bench: Bench) -> None:
    running = bench.wait_until(lambda row: bool(row["progress"]))
    for process in searches(running["run"]):
        os.kill(process, signal.SIGKILL)
    time.sleep(3)
    silent = bench.row()
    assert silent["state"] == "running", "nobody has told the database"
    heard = datetime.fromisoformat(silent["heard_at"]).replace(tzinfo=UTC)
    time.sleep(1.5)
    assert bench.row()["heard_at"] == silent["heard_at"]
    assert has_died(CuttingPlan(state="running", heard_at=heard - SILENCE))
