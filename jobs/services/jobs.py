"""Add, change, move on and put away jobs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs.contracts import contract_stands
from jobs.enums import JOB_STEPS, JobState
from jobs.history import record
from jobs.models import Job, Person, Phase, PhaseList
from jobs.numbering import next_number
from jobs.refusals import RefusedError
from jobs.services.copying import copy_phases
from jobs.versions import save_edit

COPIED_OF_A_PHASE = ("position", "title", "grade", "planned_days", "cautions", "notes")
COPIED_OF_A_LIST = ("position", "title", "grade", "planned_days", "cautions")


class StepError(RefusedError):
    """The job cannot go from its state to the one asked for."""


@transaction.atomic
def add_job(
    *,
    person: Person,
    details: Mapping[str, Any],
    phase_list: PhaseList | None = None,
    copy_of: Job | None = None,
) -> Job:
    """There is a job with the year's next number, and the phases of a list or of an old job.

    A client that is not stored yet is stored first. Of an old job the plan is copied, never its hours,
    costs or percent done.
    """
    client = details["client"]
    if client.pk is None:
        client.full_clean()
        client.save()
        record(person=person, thing=client, action="added")
    job = Job(**{**details, "client": client}, number=_next_job_number(), created_by=person)
    job.full_clean()
    job.save()
    record(person=person, thing=job, action="copied" if copy_of else "added", job=job)
    if copy_of:
        _copy_phases(copy_of, job)
    elif phase_list:
        _phases_of_list(phase_list, job)
    return job


def edit_job(job: Job, *, person: Person, version: int, details: Mapping[str, Any]) -> Job:
    """The job has these details; refused (`StaleError`) when somebody else saved first."""
    return save_edit(job, version=version, details=details, person=person, job=job)


@transaction.atomic
def move_job(job: Job, *, to: str, person: Person | None) -> Job:
    """The job is in the state asked for, if one step leads there; `StepError` otherwise.

    Asked for the state it is in already, nothing changes. A job is not lost while a contract stands, or its
    budget would count beside that of the next one. `person` is None when the client's yes moves it.
    """
    stored = Job.objects.select_for_update().get(pk=job.pk)
    if stored.state == to:
        return stored
    if to not in JOB_STEPS[stored.state]:
        known = JobState(to).label if to in JobState.values else "an unknown state"
        raise StepError(f"A job that is “{stored.get_state_display()}” cannot go to “{known}” in one step.")
    if to == JobState.LOST and contract_stands(stored):
        raise StepError(
            "A contract is agreed for this job. Cancel it under “Quotes and changes”, and say why; then the"
            " job is lost."
        )
    before = {"state": stored.state}
    stored.state = to
    stored.save(update_fields=["state"])
    record(person=person, thing=stored, action="moved", job=stored, before=before, after={"state": to})
    return stored


@transaction.atomic
def archive_job(job: Job, *, person: Person, archived: bool) -> Job:
    """The job is put away, or taken out again. Its hours, costs and papers stay either way."""
    stored = Job.objects.select_for_update().get(pk=job.pk)
    if (stored.archived_at is not None) != archived:
        stored.archived_at = timezone.now() if archived else None
        stored.save(update_fields=["archived_at"])
        action = "put away" if archived else "taken out again"
        record(person=person, thing=stored, action=action, job=stored)
    return stored


def check_not_closed(job: Job) -> None:
    """Refuses to plan, price or agree further work on a closed job."""
    if job.is_closed:
        raise RefusedError(f"Job {job.number} is closed. Mark it as handed over again to go on with it.")


def _next_job_number() -> str:
    """Year and place in the year, 26-014, by the workshop's own calendar."""
    year = timezone.localdate().year % 100
    return f"{year:02d}-{next_number(f'job-{year:02d}'):03d}"


def _copy_phases(old: Job, new: Job) -> None:
    pairs = {}
    for phase in old.phases.order_by("position", "pk"):
        copied = {name: getattr(phase, name) for name in COPIED_OF_A_PHASE}
        pairs[phase] = Phase.objects.create(job=new, **copied)
    copy_phases(pairs)


def _phases_of_list(phase_list: PhaseList, job: Job) -> None:
    for item in phase_list.items.order_by("position", "pk"):
        Phase.objects.create(job=job, **{name: getattr(item, name) for name in COPIED_OF_A_LIST})
