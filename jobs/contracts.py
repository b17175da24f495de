"""Does a contract stand for a job? The room that agrees contracts says so.

It registers when the program starts (`AppConfig.ready`), so that this room need not know it.
"""

from __future__ import annotations

from collections.abc import Callable

from jobs.models import Job

Stands = Callable[[Job], bool]
"""Whether anything is agreed for a job, in one query."""

_stands: list[Stands] = []


def register(stands: Stands) -> None:
    """From now on it is asked as well."""
    if stands not in _stands:
        _stands.append(stands)


def contract_stands(job: Job) -> bool:
    """Whether a client has said yes to this job, and the contract was not cancelled since."""
    return any(stands(job) for stands in _stands)
