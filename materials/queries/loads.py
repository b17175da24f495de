"""What does each support of a job's vehicle carry of what is built in?"""

from __future__ import annotations

from dataclasses import dataclass

from jobs.models import Job
from materials.models import Supports
from materials.queries.takeoff import JobTakeoff
from materials.takeoff.mass import Carried, Load, Shared, share_load


@dataclass(frozen=True)
class Loaded:
    """The load by moments, and what each support carries with it."""

    shared: Shared
    front: Carried
    rear: Carried


def supports_of(job: Job) -> Supports | None:
    """What the job's vehicle stands on, where somebody has said so; one query."""
    return Supports.objects.filter(job=job).first()


def loaded(takeoff: JobTakeoff, supports: Supports | None) -> Loaded | None:
    """A phase of which nothing is said sits over the rear support."""
    if supports is None:
        return None
    loads = [
        Load(row.phase.title, row.mass_kg, supports.ahead_mm10.get(str(row.phase.pk), 0))
        for row in takeoff.phases
        if row.mass_kg
    ]
    shared = share_load(loads, supports.apart_mm10)
    return Loaded(
        shared=shared,
        front=Carried(shared.front_kg, supports.front_empty_kg, supports.front_limit_kg),
        rear=Carried(shared.rear_kg, supports.rear_empty_kg, supports.rear_limit_kg),
    )
