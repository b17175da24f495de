"""What does the job weigh, against its limit and on its supports?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.access import person_of
from materials.forms.takeoff.desk import LoadsForm
from materials.queries.rates import labour_rates
from materials.queries.takeoff import get_takeoff_job_for, job_takeoff
from materials.takeoff.mass import WEIGH_IT


@require_safe
def job_mass(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_takeoff_job_for(person_of(request), pk)
    takeoff = job_takeoff(job, labour_rates())
    form = LoadsForm(request.GET or None, takeoff=takeoff)
    page = {"job": job, "takeoff": takeoff, "form": form, "shared": form.shared(), "weigh_it": WEIGH_IT}
    return render(request, "materials/takeoff/mass.html", page)
