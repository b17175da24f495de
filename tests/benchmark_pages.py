"""How long does each page take, and how many queries? Invented jobs and hours in a database of its own.

    python -m tests.benchmark_pages                    200 jobs, 20,000 time entries
    python -m tests.benchmark_pages --jobs 2000 --entries 200000
    python -m tests.benchmark_pages --keep /tmp/big    keep the database, to look at in a browser

Times are of the processor for the whole request inside the process, with middleware, queries (SQLite) and
templates, so that other work on the machine does not count; the wall clock stands beside. A measure, no test.
"""

from __future__ import annotations

import argparse
import os
import random
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

TODAY = datetime.now(UTC).date()
RUNS = 40
JOBS_A_YEAR = 200
"""2,000 jobs are ten years: a book grows as time passes, five people cannot do ten times as much a week."""
THINGS = ["Shepherd’s hut", "Narrowboat galley", "Alcove bookcase", "Boot room", "Attic bunk", "Ferry cabin"]
PHASES = ["Strip out", "Battens", "Wall lining", "Cabinets", "Worktop", "Finish and hand over"]


def main() -> None:
    options = arguments()
    with tempfile.TemporaryDirectory() as scratch:
        start_django(Path(options.keep or scratch))
        started = time.perf_counter()
        fill(jobs=options.jobs, entries=options.entries)
        print(
            f"{options.jobs} jobs, {options.entries} entries made in {time.perf_counter() - started:.1f} s\n"
        )
        print(f"{'page':<30}{'queries':>8}{'median':>8}{'p95 ms':>8}{'wall':>8}{'kB':>6}")
        for label, address in pages():
            print(line(label, address))


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--jobs", type=int, default=200)
    parser.add_argument("--entries", type=int, default=20_000)
    parser.add_argument("--keep", metavar="FOLDER", help="keep the database in this folder")
    return parser.parse_args()


def start_django(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    os.environ["KERFBOOK_DATA_DIR"] = str(folder)
    os.environ.setdefault("DATABASE_URL", f"sqlite:///{folder / 'kerfbook.sqlite3'}")
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    os.environ.setdefault("KERFBOOK_LOG_LEVEL", "ERROR")
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)


def fill(*, jobs: int, entries: int) -> None:
    """A workshop with so many jobs: most of them finished, some under way, some only asked for."""
    from jobs.models import Job, Workshop

    if Workshop.objects.exists():
        return
    random.seed(7)
    people = make_people()
    made = make_jobs(jobs)
    make_phases(made)
    make_ledgers(people[0])
    make_hours(people, entries)
    make_costs(people[0])
    make_quotes(people[0])
    assert Job.objects.count() == jobs


def make_people() -> list[Any]:
    from tests import make

    make.workshop(name="Thornbeck Joinery", calendar_key="a-key-for-the-benchmark")
    owner = make.person("Olive Owner", role="owner", rate=26)
    owner.email = "owner@example.org"
    owner.set_password("bench-owner-2026")
    owner.save()
    return [
        owner,
        *(make.person(name, rate=20 + at) for at, name in enumerate(["Ash", "Bryn", "Cleo", "Dara"])),
    ]


def make_jobs(count: int) -> list[Any]:
    from jobs.models import Client, Job

    clients = Client.objects.bulk_create(
        Client(name=f"Client {at:04d}", email=f"c{at}@example.org") for at in range(max(1, count * 2 // 3))
    )
    return Job.objects.bulk_create(
        Job(
            number=f"{17 + at * 10 // count:02d}-{at:04d}",
            client=random.choice(clients),
            title=f"{random.choice(THINGS)} {at}",
            fitted_out="Timber lining and cabinets",
            state=state_of(at, count),
        )
        for at in range(count)
    )


def state_of(at: int, count: int) -> str:
    """The older, the more finished; at most forty are at work, however long the book is."""
    from_last = count - at
    if from_last <= min(40, count // 5):
        return ["enquiry", "quoted", "won", "bench"][from_last % 4]
    return "closed" if at % 7 else "lost"


def make_phases(jobs: list[Any]) -> None:
    from jobs.models import Phase

    days = len(jobs) * 365 // JOBS_A_YEAR
    first = TODAY - timedelta(days=days)
    rows = []
    for at, job in enumerate(jobs):
        start = first + timedelta(days=at * days // len(jobs))
        for place, title in enumerate(PHASES):
            rows.append(
                Phase(
                    job=job,
                    position=place,
                    title=title,
                    planned_start=start + timedelta(days=5 * place),
                    planned_days=4,
                    cautions=["dust"] if place == 2 else [],
                    percent_done=percent_of(job.state, place),
                    percent_done_at=datetime.now(UTC),
                )
            )
    Phase.objects.bulk_create(rows, batch_size=500)


def percent_of(state: str, place: int) -> Decimal:
    if state == "closed":
        return Decimal(100)
    return Decimal(max(0, 80 - 20 * place) if state == "bench" else 0)


def make_ledgers(owner: Any) -> None:
    from jobs.models import BudgetEntry, DoneMark, Phase

    agreed = list(Phase.objects.filter(job__state__in=["won", "bench", "handed_over", "closed"]))
    BudgetEntry.objects.bulk_create(
        (
            BudgetEntry(
                phase=phase,
                source="quote",
                source_ref=f"Q{phase.job_id}",
                hours=Decimal(16),
                labour_cost=Decimal(384),
                material_cost=Decimal(220),
                price=Decimal(960),
                entered_by=owner,
            )
            for phase in agreed
        ),
        batch_size=500,
    )
    DoneMark.objects.bulk_create(
        (
            DoneMark(
                phase=phase,
                on_date=(phase.planned_start or TODAY) + timedelta(days=4 + 7 * at),
                percent=Decimal(phase.percent_done) * (at + 1) / 2,
                person=owner,
            )
            for phase in agreed
            for at in range(2)
        ),
        batch_size=500,
    )


def make_hours(people: list[Any], count: int) -> None:
    from jobs.models import Phase, TimeEntry

    phases = list(Phase.objects.filter(job__state__in=["bench", "handed_over", "closed"]))
    TimeEntry.objects.bulk_create(
        (
            TimeEntry(
                person=person,
                phase=phase,
                on_date=(phase.planned_start or TODAY) + timedelta(days=random.randrange(9)),
                seconds=random.randrange(2, 9) * 900 * 100 * len(phases) // (6 * count) // 900 * 900 or 900,
                cost_rate=Decimal(20 + at % 5),
            )
            for at in range(count)
            for phase in [phases[at % len(phases)]]
            for person in [people[at % len(people)]]
        ),
        batch_size=1000,
    )


def make_costs(owner: Any) -> None:
    from jobs.models import CostEntry, Phase

    CostEntry.objects.bulk_create(
        (
            CostEntry(
                phase=phase,
                person=owner,
                on_date=phase.planned_start or TODAY,
                net=Decimal(random.randrange(12000, 28000)) / 100,
            )
            for phase in Phase.objects.filter(job__state__in=["bench", "closed"])
        ),
        batch_size=500,
    )


def make_quotes(owner: Any) -> None:
    """A draft of labour and boards for every job that is asked for, and an order for each at the bench."""
    from jobs.models import Job, Phase
    from tests import make

    for job in Job.objects.filter(state__in=["quoted", "bench"]):
        phases = list(Phase.objects.filter(job=job))
        if job.state == "bench":
            make.order(weights=dict.fromkeys(phases, "1"), state="placed", expected_on=TODAY)
            continue
        quote = make.quote(job=job, created_by=owner)
        for phase in phases:
            make.quote_line(20, quote=quote, phase=phase, kind="labour", hours=Decimal(16))
            make.quote_line(220, quote=quote, phase=phase)


def pages() -> Iterator[tuple[str, str]]:
    """Every page of the bench and the desk that shows lists or figures."""
    from django.urls import reverse

    from jobs.models import Client, Job, Phase, TimeEntry

    job = Job.objects.filter(state="bench").first()
    assert job is not None
    phase, client = Phase.objects.filter(job=job).first(), Client.objects.filter(jobs=job).first()
    assert phase is not None
    assert client is not None
    yield "jobs", reverse("jobs:list")
    yield "jobs, all states", reverse("jobs:list") + "?state=all"
    yield "all jobs at once", reverse("jobs:portfolio")
    yield "what finished jobs teach", reverse("jobs:learnt")
    yield "looking back", reverse("jobs:look-back", args=[job.pk])
    yield "job sheet", reverse("jobs:detail", args=[job.pk])
    yield "job progress", reverse("jobs:progress", args=[job.pk])
    yield "job progress, CSV", reverse("jobs:progress-file", args=[job.pk, "csv"])
    yield "phase", reverse("jobs:phase", args=[phase.pk])
    yield "say how far it is", reverse("jobs:done", args=[job.pk])
    yield "new job", reverse("jobs:add")
    yield "clients", reverse("jobs:clients")
    yield "client", reverse("jobs:client", args=[client.pk])
    yield "find", reverse("jobs:find") + "?q=hut"
    yield "workshop", reverse("jobs:workshop")
    yield "costs of a job", reverse("jobs:costs", args=[job.pk])
    yield "bench", reverse("jobs:bench")
    for name in ("hours", "cost", "note", "queue"):
        yield f"bench, {name}", reverse(f"jobs:bench-{name}")
    entry = TimeEntry.objects.filter(on_date__lte=TODAY).latest("on_date")
    year, week, _ = entry.on_date.isocalendar()
    yield "time sheets", reverse("jobs:sheets") + f"?week={year}-W{week:02d}"
    yield "time sheet of a week", reverse("jobs:sheet", args=[entry.person_id, f"{year}-W{week:02d}"])
    yield "time sheets, CSV", reverse("jobs:sheets-file", args=[f"{year}-W{week:02d}", "csv"])
    yield "calendar feed", reverse("jobs:calendar", args=["a-key-for-the-benchmark"])
    yield from desk_pages(job)


def desk_pages(job: Any) -> Iterator[tuple[str, str]]:
    """Orders, stock, catalogue and quotes beside the same book of jobs."""
    from django.urls import reverse

    from quotes.models import Quote

    yield "purchase list", reverse("materials:purchase", args=[job.pk])
    yield "orders", reverse("materials:orders")
    yield "quotes of a job", reverse("quotes:of_job", args=[job.pk])
    quote = Quote.objects.filter(lines__kind="labour").first()
    assert quote is not None
    yield "quote desk", reverse("quotes:desk", args=[quote.pk])
    yield "accounts", reverse("quotes:accounts")
    yield "overdue", reverse("quotes:overdue")


def logged_in() -> Any:
    """The owner's browser, of a program that is loaded as the server loads it."""
    from django.test import Client as Browser

    from config.server import when_ready
    from jobs.models import Person

    when_ready(None)

    browser = Browser(HTTP_HOST="localhost")
    browser.force_login(Person.objects.get(email="owner@example.org"))
    return browser


def line(label: str, address: str) -> str:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    browser = logged_in()
    answer = browser.get(address)
    assert answer.status_code == 200, f"{address}: {answer.status_code}"
    with CaptureQueriesContext(connection) as caught:
        browser.get(address)
    queries = len(caught)  # before the next request empties the log
    times = [timed(browser, address) for _ in range(RUNS)]
    busy, wall = sorted(busy for busy, _ in times), sorted(wall for _, wall in times)
    size = len(answer.content) / 1024
    median, high = busy[RUNS // 2], busy[RUNS * 95 // 100]
    return f"{label:<30}{queries:>8}{median:>8.1f}{high:>8.1f}{wall[RUNS // 2]:>8.1f}{size:>6.0f}"


def timed(browser: Any, address: str) -> tuple[float, float]:
    """Milliseconds of the processor, and by the clock."""
    busy, wall = time.process_time(), time.perf_counter()
    browser.get(address)
    return (time.process_time() - busy) * 1000, (time.perf_counter() - wall) * 1000


if __name__ == "__main__":
    main()
