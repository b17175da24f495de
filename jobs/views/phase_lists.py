"""Lists of phases that jobs of one kind start from."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from jobs.access import owner_only, person_of
from jobs.forms.phase_lists import PhaseListForm, phase_items, typed_items
from jobs.models import PhaseList
from jobs.queries.jobs import get_job_for
from jobs.queries.workshop import get_phase_list
from jobs.services.phase_lists import keep_phase_list, keep_phases_of, take_out_phase_list
from jobs.views.editing import AMISS, FormPage, form_page


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def phase_list(request: HttpRequest, pk: int | None = None) -> HttpResponse:
    kept = get_phase_list(pk) if pk else PhaseList()
    form = PhaseListForm(request.POST or None, instance=kept)
    rows = phase_items(request.POST or None, kept if pk else None)
    status = 200
    if request.method == "POST":
        if form.is_valid() and rows.is_valid():
            name, items = form.cleaned_data["name"], typed_items(rows)
            keep_phase_list(kept, person=person_of(request), name=name, items=items)
            messages.success(request, f"“{name}” is kept with {len(items)} phases.")
            return redirect(f"{reverse('jobs:workshop')}#lists")
        status = AMISS
    return render(request, "jobs/phase_list.html", {"form": form, "rows": rows, "kept_pk": pk}, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def phase_list_of_job(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_job_for(person_of(request), pk)
    form = PhaseListForm(request.POST or None, initial={"name": job.fitted_out[:80] or job.title[:80]})
    page = FormPage("Keep these phases as a list", "Keep", job.get_absolute_url(), str(job))
    page.above = "Jobs of this kind can then start from it. Hours and costs are not taken along."

    def save() -> str:
        kept = keep_phases_of(job, person=person_of(request), name=form.cleaned_data["name"])
        return reverse("jobs:phase-list", args=[kept.pk])

    return form_page(request, form, save, page)


@require_POST
@owner_only
def phase_list_take_out(request: HttpRequest, pk: int) -> HttpResponse:
    kept = get_phase_list(pk)
    take_out_phase_list(kept, person=person_of(request))
    messages.success(request, f"“{kept.name}” is taken out. Jobs made from it stay.")
    return redirect("jobs:workshop")
