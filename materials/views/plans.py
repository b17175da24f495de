"""How is the material of a job cut?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_POST, require_safe
from django_htmx.http import reswap, retarget

from jobs.access import does_the_work, person_of
from jobs.models import Job
from jobs.refusals import RefusedError
from materials.cut_papers import cut_sheet_pdf, labels_pdf
from materials.forms.plans import CutForm, SawForm, typed_as
from materials.models import CuttingPlan, SawnStock
from materials.queries.plan_pages import plans_page
from materials.queries.plan_sheet import plan_for, plan_page, plans_to_print
from materials.queries.plan_tasks import settings_of
from materials.services.plans import plan_cutting, stop_search
from materials.services.sawing import confirm_cut, undo_cut


@require_safe
def plan_list(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    page = plans_page(job, person_of(request))
    return render(request, "materials/plans/list.html", {"page": page, "job": job})


@require_POST
@does_the_work
def plan_make(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    chosen = [int(word) for word in request.POST.getlist("material") if word.isdecimal()]
    plans = plan_cutting(job=job, person=person_of(request), materials=chosen or None)
    if not plans:
        messages.warning(request, "Nothing to cut yet: take off boards or sheets in a phase first.")
    return redirect(plans[0] if len(plans) == 1 else reverse("materials:plans", args=[pk]))


@require_safe
def plan_detail(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    if not getattr(request, "htmx", False):
        return show_plan(request, row)
    page = plan_page(row, person_of(request))
    context = {"page": page, "line": page.line, "plan": row}
    if page.line.is_busy and request.GET.get("shown") == str(row.better_count):
        return render(request, "materials/plans/search.html", context)
    whole = render(request, "materials/plans/body.html", {**context, "again": True})
    return reswap(retarget(whole, "#plan"), "innerHTML")


def show_plan(request: HttpRequest, row: CuttingPlan, form: SawForm | None = None) -> HttpResponse:
    """The page of a plan, with its settings as they were typed if something is amiss with them."""
    page = plan_page(row, person_of(request))
    context = {
        "page": page,
        "line": page.line,
        "plan": row,
        "job": row.job,
        "form": form or SawForm(initial=typed_as(settings_of(row)), kind=row.kind),
    }
    return render(request, "materials/plans/plan.html", context)


@require_POST
@does_the_work
def plan_again(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    form = SawForm(request.POST, kind=row.kind)
    if not form.is_valid():
        return show_plan(request, row, form)
    plan_cutting(
        job=row.job,
        person=person_of(request),
        materials=[row.material_id],
        settings={row.material_id: form.settings},
    )
    if not CuttingPlan.objects.filter(pk=pk).exists():
        messages.info(request, f"Nothing of {row.material} is asked for any more, so its plan is gone.")
        return redirect("materials:plans", row.job_id)
    return redirect(row)


@require_POST
@does_the_work
def plan_stop(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    stop_search(plan=row)
    return redirect(row)


@require_POST
@does_the_work
def plan_cut(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    form = CutForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Say how many are cut, in a whole number.")
        return redirect(row)
    try:
        sawn = confirm_cut(plan=row, person=person_of(request), **form.cleaned_data)
        messages.success(request, f"Cut: {len(sawn)} × {sawn[0].words}. What is cut stays in every plan.")
    except RefusedError as error:
        messages.error(request, str(error))
    return redirect(row)


@require_POST
@does_the_work
def plan_uncut(request: HttpRequest, pk: int) -> HttpResponse:
    sawn = get_object_or_404(SawnStock.everything.select_related("plan__job", "plan__material"), pk=pk)
    person = person_of(request)
    row = sawn.plan
    try:
        undo_cut(sawn=sawn, person=person)
        plan_cutting(job=row.job, person=person, materials=[row.material_id])
        messages.success(request, f"Not cut after all: {sawn.words}. The plan is made anew.")
    except RefusedError as error:
        messages.error(request, str(error))
    return redirect(row)


@require_safe
def plan_cut_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    name = f"cut-sheet-{row.job.number}-{row.material.code}.pdf"
    return _pdf(cut_sheet_pdf(row.job, [row] if row.result else [], person_of(request)), name)


@require_safe
def plan_labels(request: HttpRequest, pk: int) -> HttpResponse:
    row = plan_for(pk)
    return _pdf(labels_pdf(row.job, [row]), f"labels-{row.job.number}-{row.material.code}.pdf")


@require_safe
def plans_cut_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    pdf = cut_sheet_pdf(job, plans_to_print(job), person_of(request))
    return _pdf(pdf, f"cut-sheet-{job.number}.pdf")


@require_safe
def plans_labels(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    return _pdf(labels_pdf(job, plans_to_print(job)), f"labels-{job.number}.pdf")


def _pdf(content: bytes, name: str) -> HttpResponse:
    """A paper to look at; the browser offers to keep it under the name."""
    disposition = content_disposition_header(False, name) or "inline"
    return HttpResponse(content, content_type="application/pdf", headers={"Content-Disposition": disposition})
