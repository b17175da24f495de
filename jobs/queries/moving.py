"""Which dates of a job would move if its phases took more days?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from jobs.models import Job, Phase
from jobs.progress.moving import MovedPlan, Stretch, move_plan


def plan_with(job: Job, added: Mapping[int, int]) -> MovedPlan:
    """The plan of a job with these days added to its phases, by their ids; one query."""
    return moved_of(job, job.phases.only("planned_start", "planned_days", "percent_done", "job_id"), added)


def moved_of(job: Job, phases: Iterable[Phase], added: Mapping[int, int]) -> MovedPlan:
    """The same of phases already read."""
    stretches = [
        Stretch(phase.pk, phase.planned_start, phase.planned_days, begun=phase.percent_done > 0)
        for phase in phases
    ]
    return move_plan(stretches, added, job.ends_on)
