"""Add, change, order and take out phases, and say how far they are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.db.models.deletion import ProtectedError
from django.utils import timezone

from jobs.history import record, snapshot
from jobs.models import DoneMark, Job, Person, Phase
from jobs.refusals import RefusedError
from jobs.services.jobs import check_not_closed
from jobs.versions import save_edit

_SAID = ("percent_done", "hours_left")


class PhaseInUseError(RefusedError):
    """Hours, costs, budget or orders stand on the phase, so it stays."""


@dataclass(frozen=True)
class Done:
    """How far a phase is, by its maker's word: per cent, and the hours still to go if they were given."""

    percent: Decimal
    hours_left: Decimal | None = None


@transaction.atomic
def add_phase(job: Job, *, person: Person, details: Mapping[str, Any]) -> Phase:
    """The job has a further phase, after the others."""
    Job.objects.select_for_update().get(pk=job.pk)
    last = job.phases.aggregate(last=Max("position"))["last"]
    phase = Phase(job=job, position=0 if last is None else last + 1, **details)
    phase.full_clean()
    phase.save()
    record(person=person, thing=phase, action="added", job=job)
    return phase


def edit_phase(phase: Phase, *, person: Person, version: int, details: Mapping[str, Any]) -> Phase:
    """The phase has these details; refused (`StaleError`) when somebody else saved first."""
    return save_edit(phase, version=version, details=details, person=person, job=phase.job)


@transaction.atomic
def move_phase(phase: Phase, *, up: bool) -> None:
    """The phase has changed places with its neighbour; at the end of the row nothing changes."""
    Job.objects.select_for_update().get(pk=phase.job_id)
    row = list(Phase.objects.filter(job=phase.job_id).order_by("position", "pk"))
    at = next(place for place, other in enumerate(row) if other.pk == phase.pk)
    neighbour = at - 1 if up else at + 1
    if 0 <= neighbour < len(row):
        row[at], row[neighbour] = row[neighbour], row[at]
    for place, other in enumerate(row):
        other.position = place
    Phase.objects.bulk_update(row, ["position"])


@transaction.atomic
def take_out_phase(phase: Phase, *, person: Person) -> None:
    """The phase is gone. Refused when anything was booked on it: records of work and money stay true."""
    standing = _standing_on(phase)
    if standing:
        raise PhaseInUseError(
            f"“{phase.title}” stays: it has {', '.join(standing)}. Move those to another phase "
            "first, or leave the phase, set it to 100 % done and rename it."
        )
    record(person=person, thing=phase, action="taken out", job=phase.job, before={"title": phase.title})
    try:
        phase.delete()
    except ProtectedError as error:
        kinds = sorted({str(thing._meta.verbose_name_plural) for thing in error.protected_objects})
        raise PhaseInUseError(
            f"“{phase.title}” stays: it still has {', '.join(kinds)}. Take those out first."
        ) from error


@transaction.atomic
def mark_done(phase: Phase, done: Done, *, person: Person) -> Phase:
    """The phase is so far done. Each word is kept with its day, so that progress can be drawn over weeks.

    Said as it was before, nothing changes. Refused on a closed job.
    """
    stored = Phase.objects.select_for_update(of=("self",)).select_related("job").get(pk=phase.pk)
    if stored.percent_done == done.percent and stored.hours_left == done.hours_left:
        return stored
    check_not_closed(stored.job)
    before = snapshot(stored, _SAID)
    DoneMark.objects.create(
        phase=stored,
        on_date=timezone.localdate(),
        percent=done.percent,
        hours_left=done.hours_left,
        person=person,
    )
    stored.percent_done, stored.hours_left, stored.percent_done_at = (
        done.percent,
        done.hours_left,
        timezone.now(),
    )
    stored.full_clean()
    stored.save(update_fields=["percent_done", "hours_left", "percent_done_at"])
    after = snapshot(stored, _SAID)
    record(person=person, thing=stored, action="said how far", job=stored.job, before=before, after=after)
    return stored


def _standing_on(phase: Phase) -> list[str]:
    """What is booked on a phase, in words."""
    counted = {
        "hours": phase.time_entries.count(),
        "costs": phase.cost_entries.count(),
        "an agreed budget": phase.budget_entries.count(),
        "orders": phase.commitments.count(),
    }
    return [name for name, count in counted.items() if count]
