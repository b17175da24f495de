"""Fifty phones come back into the signal at once: is every entry in the book once, and how long does it take?

Each phone sends 40 queued entries in order: timers started and stopped, hours, receipts and notes. Every
second one it sends twice; of those, half the first answers are dropped: the phone shuts the line before it
has heard. The server is the production one, with its own settings. Usage, from the project's folder:

    python -m tests.benchmark_phones             on SQLite
    python -m tests.benchmark_phones postgres    on a PostgreSQL of its own, in a temporary folder
"""

from __future__ import annotations

import http.client
import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
PHONES, EACH, PORT = int(os.environ.get("PHONES", "50")), 40, 8137
HOST = "127.0.0.1"


@dataclass
class Phone:
    """One phone: who it's logged in as, what it sends, and what it was told."""

    person: int
    cookie: str
    phase: int
    token: str = ""
    took: list[float] = field(default_factory=list)
    told: dict[str, list[tuple[int, Any]]] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def ask(self, method: str, path: str, body: str | None = None, *, hang_up: bool = False) -> Any:
        """The answer; None where the line was shut before it came."""
        line = http.client.HTTPConnection(HOST, PORT, timeout=60)
        head = {"Cookie": f"kerfbook={self.cookie}; kerfbook-csrf={self.token}", "X-CSRFToken": self.token}
        line.request(method, path, body, {**head, "Content-Type": "application/json"})
        try:
            if hang_up:
                return None
            answer = line.getresponse()
            return answer.status, answer.read(), answer.headers
        finally:
            line.close()

    def log_in(self) -> None:
        _, _, headers = self.ask("GET", "/bench/")
        morsels = [value for name, value in headers.items() if name.lower() == "set-cookie"]
        self.token = (
            next(one for one in morsels if one.startswith("kerfbook-csrf=")).split("=")[1].split(";")[0]
        )

    def send(self, message: dict[str, Any], *, hang_up: bool = False) -> None:
        begun = time.perf_counter()
        try:
            answer = self.ask("POST", "/bench/queue/", json.dumps(message), hang_up=hang_up)
        except OSError as fault:  # the signal is gone again: a phone keeps the entry and sends it later
            self.faults.append(str(fault))
            return
        if answer is None:
            return
        self.took.append(time.perf_counter() - begun)
        status, body, _ = answer
        self.told.setdefault(message["key"], []).append((status, json.loads(body)))

    def work(self) -> None:
        """Send everything in order; what had no answer is sent again until it has one."""
        for at, message in enumerate(self.messages()):
            if at % 2 == 0:
                self.send(message, hang_up=at % 4 == 0)
            while True:
                self.send(message)
                if message["key"] in self.told:
                    break
                time.sleep(0.2)

    def messages(self) -> Iterator[dict[str, Any]]:
        start = datetime.now(UTC) - timedelta(days=20)
        for at in range(EACH // 4):
            began = start + timedelta(days=at)
            whole = {"person": self.person, "phase": self.phase}
            timer = str(uuid.uuid4())
            yield {**whole, "act": "start", "key": timer, "at": began.isoformat()}
            ended = (began + timedelta(hours=1)).isoformat()
            yield {**whole, "act": "stop", "key": str(uuid.uuid4()), "timer": timer, "at": ended}
            day = str(began.date())
            yield {**whole, "act": "hours", "key": str(uuid.uuid4()), "hours": "1:30", "on_date": day}
            if at % 2:
                yield {**whole, "act": "note", "key": str(uuid.uuid4()), "text": f"note {at}"}
            else:
                cost = {"act": "cost", "total": "12.34", "kind": "material", "on_date": day}
                yield {**whole, **cost, "key": str(uuid.uuid4())}


@contextmanager
def database(kind: str, folder: Path) -> Iterator[str]:
    """The address of an empty database of that kind."""
    if kind != "postgres":
        yield f"sqlite:///{folder / 'kerfbook.sqlite3'}"
        return
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin"))[-1]
    run = ["runuser", "-u", "postgres", "--"] if os.getuid() == 0 else []
    if run:
        shutil.chown(folder, "postgres")
    user, data = ("postgres" if run else os.environ["USER"]), folder / "pg"

    def act(program: str, *arguments: str | Path) -> None:
        subprocess.run([*run, found / program, *arguments], check=True, stdout=subprocess.DEVNULL)

    act("initdb", "-D", data, "-A", "trust", "-U", user)
    options = f"-k {folder} -c listen_addresses=''"
    act("pg_ctl", "-D", data, "-w", "-l", folder / "log", "-o", options, "start")
    try:
        act("createdb", "-h", folder, "-U", user, "kerfbook")
        yield f"postgres://{user}@{str(folder).replace('/', '%2F')}/kerfbook"
    finally:
        act("pg_ctl", "-D", data, "-m", "immediate", "stop")


def make_phones() -> list[Phone]:
    """A workshop with a job on the bench, and a logged-in person for every phone."""
    from django.conf import settings
    from django.test import Client

    from tests import make

    make.workshop()
    phase = make.phase(job=make.job(state="bench"))
    phones = []
    for at in range(PHONES):
        person, session = make.person(f"Maker {at}"), Client()
        session.force_login(person)
        phones.append(Phone(person.pk, session.cookies[settings.SESSION_COOKIE_NAME].value, phase.pk))
    return phones


@contextmanager
def server() -> Iterator[None]:
    gunicorn = Path(sys.executable).with_name("gunicorn")
    command = [gunicorn, "--config", "config/server.py", "--log-level", "error", "config.wsgi"]
    process = subprocess.Popen(command, cwd=ROOT, env={**os.environ, "PORT": str(PORT)})
    try:
        for _ in range(100):
            try:
                http.client.HTTPConnection(HOST, PORT, timeout=2).request("GET", "/worker.js")
                break
            except OSError:
                time.sleep(0.2)
        yield
    finally:
        process.terminate()
        process.wait(20)


def check(phones: list[Phone], seconds: float) -> None:
    """Every entry once, every repeat told the same; then the figures."""
    from django.db.models import Sum

    from jobs.models import CostEntry, Note, TimeEntry

    rounds = PHONES * EACH // 4
    hours = TimeEntry.objects.aggregate(seconds=Sum("seconds"))["seconds"] / 3600
    assert TimeEntry.objects.count() == 2 * rounds, TimeEntry.objects.count()
    assert (hours, TimeEntry.objects.filter(seconds=None).count()) == (2.5 * rounds, 0)
    assert CostEntry.objects.count() + Note.objects.count() == rounds
    told = [answers for phone in phones for answers in phone.told.values()]
    assert len(told) == PHONES * EACH
    assert all(status in (200, 201) for answers in told for status, _ in answers)
    assert all(body == answers[0][1] for answers in told for _, body in answers)
    took = sorted(one for phone in phones for one in phone.took)
    again = sum(status == 200 for answers in told for status, _ in answers)
    broken = sum(len(phone.faults) for phone in phones)
    print(f"{PHONES * EACH} entries of {PHONES} phones, each in the book once.")
    print(f"{again} answers to a repeat, all the same as the first; {broken} lines broke by themselves.")
    print(f"{seconds:.1f} s, {len(took) / seconds:.0f} answers a second.")
    worst = took[int(len(took) * 0.95)]
    print(f"Median {statistics.median(took) * 1000:.0f} ms, 95 % within {worst * 1000:.0f} ms.")


def main(kind: str) -> None:
    with tempfile.TemporaryDirectory() as name, database(kind, Path(name)) as address:
        os.environ.update(
            DJANGO_SETTINGS_MODULE="config.settings",
            DATABASE_URL=address,
            KERFBOOK_SECRET_KEY="for-this-run-only",
            KERFBOOK_LOG_LEVEL="ERROR",
            KERFBOOK_DATA_DIR=tempfile.mkdtemp(),
        )
        import django
        from django.core.management import call_command
        from django.db import connections

        django.setup()
        call_command("migrate", verbosity=0)
        phones = make_phones()
        connections.close_all()
        with server():
            threads = [threading.Thread(target=phone.work) for phone in phones]
            for phone in phones:
                phone.log_in()
            begun = time.perf_counter()
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
            seconds = time.perf_counter() - begun
        check(phones, seconds)
        connections.close_all()


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "sqlite")
