"""Say on what a job's vehicle stands and where its load sits."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from jobs.history import record, snapshot
from jobs.models import Job, Person
from jobs.versions import save_edit
from materials.models import Supports

_TOLD = ("apart_mm10", "front_empty_kg", "front_limit_kg", "rear_empty_kg", "rear_limit_kg")


@transaction.atomic
def place_loads(*, job: Job, details: Mapping[str, Any], version: int, person: Person) -> Supports:
    """The job's supports and places are as given. Refused where somebody else has saved meanwhile."""
    Job.objects.select_for_update(no_key=True).get(pk=job.pk)  # two first saves wait for each other
    stored = Supports.objects.filter(job=job).first()
    if stored is not None:
        unspoken = ("ahead_mm10",)
        return save_edit(stored, version=version, details=details, person=person, job=job, unspoken=unspoken)
    made = Supports(job=job, **details)
    made.full_clean()
    made.save()
    record(person=person, thing=made, action="placed", job=job, after=snapshot(made, _TOLD))
    return made
