"""Keep lists of phases that jobs of one kind start from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from jobs.history import record
from jobs.models import Job, Person, PhaseList, PhaseListItem

KEPT_OF_A_PHASE = ("title", "grade", "planned_days", "cautions")


@transaction.atomic
def keep_phase_list(
    phase_list: PhaseList, *, person: Person, name: str, items: Sequence[Mapping[str, Any]]
) -> PhaseList:
    """The list has this name and these phases in this order. Jobs made from it before are not touched."""
    phase_list.name = name
    phase_list.full_clean()
    phase_list.save()
    phase_list.items.all().delete()
    PhaseListItem.objects.bulk_create(
        PhaseListItem(phase_list=phase_list, position=place, **item) for place, item in enumerate(items)
    )
    record(person=person, thing=phase_list, action="kept")
    return phase_list


def keep_phases_of(job: Job, *, person: Person, name: str) -> PhaseList:
    """There is a list of this name with the phases of the job as they are planned now."""
    phases = job.phases.order_by("position", "pk").values(*KEPT_OF_A_PHASE)
    return keep_phase_list(PhaseList(), person=person, name=name, items=list(phases))


@transaction.atomic
def take_out_phase_list(phase_list: PhaseList, *, person: Person) -> None:
    """The list is gone; jobs that were made from it stay as they are."""
    record(person=person, thing=phase_list, action="taken out", before={"name": phase_list.name})
    phase_list.delete()
