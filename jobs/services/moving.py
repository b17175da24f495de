"""How do the dates of a job follow a change that was agreed?"""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction

from jobs.history import record, snapshot
from jobs.models import Job, Person, Phase
from jobs.progress.moving import Moved
from jobs.queries.moving import moved_of

DATES = ("planned_start", "planned_days")


@transaction.atomic
def move_dates(*, job: Job, added: Mapping[int, int], person: Person | None) -> None:
    """Phases have so many more days (or fewer), what follows them starts later, and the job ends later.

    A form of a phase or of the job opened before is out of date afterwards, so that it can't put the old
    dates back.
    """
    row = Job.objects.select_for_update().get(pk=job.pk)
    phases = {phase.pk: phase for phase in Phase.objects.select_for_update().filter(job=row)}
    plan = moved_of(row, phases.values(), added)
    for moved in plan.moved:
        _move(phases[moved.before.key], moved, row, person)
    if row.ends_on and plan.ends_after != row.ends_on:
        before = snapshot(row, ["ends_on"])
        row.ends_on = plan.ends_after
        row.version += 1
        row.save(update_fields=["ends_on", "version"])
        after = snapshot(row, ["ends_on"])
        record(person=person, thing=row, action="moved with a change", job=row, before=before, after=after)


def _move(phase: Phase, moved: Moved, job: Job, person: Person | None) -> None:
    before = snapshot(phase, DATES)
    phase.planned_start, phase.planned_days = moved.after.start, moved.after.days
    phase.version += 1
    phase.save(update_fields=[*DATES, "version"])
    after = snapshot(phase, DATES)
    record(person=person, thing=phase, action="moved with a change", job=job, before=before, after=after)
