"""What is still open on a job when somebody closes it? Each room that knows of something says so here.

Each source registers when the program starts (`AppConfig.ready`), so that this room need not know the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from jobs.models import Job


@dataclass(frozen=True)
class Open:
    """Something not finished, in words for the owner, and where to see to it."""

    words: str
    href: str


Source = Callable[[Job], Iterable[Open]]
"""Given a job, what is not finished, in a fixed number of queries."""

_sources: list[Source] = []


def register(source: Source) -> None:
    """From now on it is asked as well."""
    if source not in _sources:
        _sources.append(source)


def open_on(job: Job) -> list[Open]:
    """All that is not finished, in the order of the sources."""
    return [one for source in _sources for one in source(job)]
