"""What has been taken off, by job and by phase?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.access import person_of
from jobs.enums import Role
from materials.forms.takeoff import ENTRY_KINDS
from materials.queries.rates import labour_rates
from materials.queries.takeoff import (
    get_takeoff_job_for,
    get_takeoff_phase_for,
    job_takeoff,
    phase_takeoff,
)
from materials.takeoff.mass import WEIGH_IT

MAY_WRITE = frozenset({Role.OWNER, Role.MAKER})


@require_safe
def job_takeoff_page(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_takeoff_job_for(person_of(request), pk)
    page = {"job": job, "takeoff": job_takeoff(job, labour_rates()), "weigh_it": WEIGH_IT}
    return render(request, "materials/takeoff/job.html", page | writing(request))


@require_safe
def phase_takeoff_page(request: HttpRequest, pk: int) -> HttpResponse:
    phase = get_takeoff_phase_for(person_of(request), pk)
    page = {
        "job": phase.job,
        "phase": phase,
        "takeoff": phase_takeoff(phase, labour_rates()),
        "kinds": list(ENTRY_KINDS.values()),
        "removed": request.session.get("removed_takeoff"),
        "weigh_it": WEIGH_IT,
    }
    return render(request, "materials/takeoff/phase.html", page | writing(request))


def writing(request: HttpRequest) -> dict[str, bool]:
    """Whether the page shows what changes things."""
    return {"may_write": person_of(request).role in MAY_WRITE}
