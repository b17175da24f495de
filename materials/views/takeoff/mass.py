"""What does the job weigh, against its limit and on its supports?"""

from __future__ import annotations

from collections.abc import Sequence

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from jobs.access import does_the_work, person_of
from jobs.forms.versioned import Difference, changed_since, sent_again_over
from jobs.models import Job
from jobs.versions import StaleError
from jobs.views.editing import AMISS, OVERTAKEN
from materials.forms.takeoff.loads import LoadsForm
from materials.queries.loads import loaded, supports_of
from materials.queries.rates import labour_rates
from materials.queries.takeoff import JobTakeoff, get_takeoff_job_for, job_takeoff
from materials.services.loads import place_loads
from materials.takeoff.mass import WEIGH_IT


@require_safe
def job_mass(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_takeoff_job_for(person_of(request), pk)
    takeoff = job_takeoff(job, labour_rates())
    return _show(request, takeoff, LoadsForm(takeoff=takeoff, supports=supports_of(job)))


@require_POST
@does_the_work
def job_supports(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_of(request)
    job = get_takeoff_job_for(person, pk)
    takeoff = job_takeoff(job, labour_rates())
    form = LoadsForm(request.POST, takeoff=takeoff, supports=supports_of(job))
    if not form.is_valid():
        return _show(request, takeoff, form, status=AMISS)
    try:
        place_loads(job=job, details=form.details, version=form.opened_on, person=person)
    except StaleError as stale:
        sent_again_over(form, stale.stored)
        return _show(request, takeoff, form, status=OVERTAKEN, clash=changed_since(form))
    return redirect("materials:mass", pk)


def _show(
    request: HttpRequest,
    takeoff: JobTakeoff,
    form: LoadsForm,
    *,
    status: int = 200,
    clash: Sequence[Difference] = (),
) -> HttpResponse:
    job: Job = takeoff.job
    page = {
        "job": job,
        "takeoff": takeoff,
        "form": form,
        "supports": form.supports,
        "loaded": loaded(takeoff, form.supports),
        "weigh_it": WEIGH_IT,
        "clash": clash,
    }
    return render(request, "materials/takeoff/mass.html", page, status=status)
