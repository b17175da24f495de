"""What about a job wants a look before it costs a day? Each room that knows of something says so here.

Each source registers when the program starts (`AppConfig.ready`), so that this room need not know the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from jobs.models import Job


@dataclass(frozen=True)
class JobWarning:
    """A sentence, without prices, and where to do something about it."""

    words: str
    href: str
    act: str


Source = Callable[[Job], Iterable[JobWarning]]
"""Given a job, what is to be said of it, in one query."""

_sources: list[Source] = []


def register(source: Source) -> None:
    """From now on the job's page says it."""
    if source not in _sources:
        _sources.append(source)


def warnings_of(job: Job) -> list[JobWarning]:
    """All that wants a look, in the order of the sources."""
    return [warning for source in _sources for warning in source(job)]
