"""How is the material of a job cut?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe
from django_htmx.http import reswap, retarget

from jobs.access import does_the_work, person_of
from jobs.models import Job
from materials.queries.plan_pages import plans_page
from materials.queries.plan_sheet import plan_for, plan_page
from materials.services.plans import plan_cutting, stop_search


@require_safe
def plan_list(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    page = plans_page(job, person_of(request))
    return render(request, "materials/plans/list.html", {"page": page, "job": job})


@require_POST
@does_the_work
def plan_make(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    chosen = [int(word) for word in request.POST.getlist("material") if word.isdigit()]
    plans = plan_cutting(job=job, person=person_of(request), materials=chosen or None)
    if not plans:
        messages.warning(request, "Nothing to cut yet: take off boards or sheets in a phase first.")
    return redirect(plans[0] if len(plans) == 1 else reverse("materials:plans", args=[pk]))


@require_safe
def plan_detail(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    page = plan_page(row, person_of(request))
    context = {"page": page, "job": row.job, "line": page.line, "plan": row}
    if not getattr(request, "htmx", False):
        return render(request, "materials/plans/plan.html", context)
    if page.line.is_searching and request.GET.get("shown") == str(row.better_count):
        return render(request, "materials/plans/search.html", context)
    whole = render(request, "materials/plans/body.html", context)
    return reswap(retarget(whole, "#plan"), "innerHTML")


@require_POST
@does_the_work
def plan_stop(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    stop_search(plan=row)
    return redirect(row)
