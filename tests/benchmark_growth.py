"""What do ten times the jobs and entries cost each page? Two books of one make, asked by turns.

    python -m tests.benchmark_growth                      200 jobs, 20,000 entries against ten times that
    python -m tests.benchmark_growth --keep /tmp/books    keep the databases, to measure again in less time

By turns, since a shared machine is faster at one minute than at the next, by more than ten times the data
costs. Times are of the processor, as in `tests.benchmark_pages`. A measure, no test.
"""

from __future__ import annotations

import argparse
import tempfile
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from statistics import median
from typing import Any

from tests.benchmark_pages import fill, logged_in, pages, start_django, timed

JOBS, ENTRIES, TIMES = 200, 20_000, 10
RUNS = 41


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--keep", metavar="FOLDER", help="keep the databases in this folder")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(options.keep or scratch)
        small, large = book(folder / "small", 1), book(folder / "large", TIMES)
        labels = ready(small)
        ready(large)
        print(f"{'page':<30}{'median':>8}{'p95 ms':>8}{'at ten':>8}{'p95 ms':>8}{'times':>8}")
        for label in labels:
            print(line(label, small, large))


def book(folder: Path, times: int) -> Connection:
    """A process with a book of its own; it answers a page's name with the milliseconds it took."""
    ours, theirs = get_context("spawn").Pipe()
    get_context("spawn").Process(target=answer, args=(theirs, folder, times), daemon=True).start()
    return ours


def ready(book: Connection) -> list[str]:
    """The names of its pages, once it is filled."""
    labels: list[str] = book.recv()
    return labels


def answer(asked: Connection, folder: Path, times: int) -> None:
    start_django(folder)
    fill(jobs=JOBS * times, entries=ENTRIES * times)
    addresses, browser = dict(pages()), logged_in()
    asked.send(list(addresses))
    while True:
        asked.send(timed(browser, addresses[asked.recv()])[0])


def line(label: str, *books: Connection) -> str:
    taken: Any = [[], []]
    for run in range(RUNS + 1):
        for times, book in zip(taken, books, strict=True):
            book.send(label)
            busy = book.recv()
            if run:  # the first time warms
                times.append(busy)
    small, large = (sorted(times) for times in taken)
    high = RUNS * 95 // 100
    return (
        f"{label:<30}{median(small):>8.1f}{small[high]:>8.1f}{median(large):>8.1f}{large[high]:>8.1f}"
        f"{median(large) / median(small):>8.2f}"
    )


if __name__ == "__main__":
    main()
