"""The phases of a job: add, change, arrange, take out, and say how far they are."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import does_the_work, person_of
from jobs.forms.done import done_forms
from jobs.forms.jobs import PhaseForm
from jobs.queries.jobs import get_job_for, get_phase_for
from jobs.queries.phases import how_far_page, phase_page, phases_page
from jobs.services.phases import (
    PhaseInUseError,
    add_phase,
    edit_phase,
    mark_done,
    move_phase,
    take_out_phase,
)
from jobs.views.editing import AMISS, FormPage, form_page


@require_safe
def phase_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/phase.html", {"shown": phase_page(person_of(request), pk)})


@require_safe
@does_the_work
def phases_arrange(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/phases.html", {"shown": phases_page(person_of(request), pk)})


@require_http_methods(["GET", "HEAD", "POST"])
@does_the_work
def phase_add(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_job_for(person_of(request), pk)
    form = PhaseForm(request.POST or None)
    page = FormPage("New phase", "Add phase", job.get_absolute_url(), str(job))

    def save() -> str:
        phase = add_phase(job, person=person_of(request), details=form.details)
        messages.success(request, f"“{phase}” is added.")
        return reverse("jobs:phases", args=[job.pk])

    return form_page(request, form, save, page)


@require_http_methods(["GET", "HEAD", "POST"])
@does_the_work
def phase_edit(request: HttpRequest, pk: int) -> HttpResponse:
    phase = get_phase_for(person_of(request), pk)
    form = PhaseForm(request.POST or None, instance=phase)
    page = FormPage(f"Edit {phase}", "Save", phase.get_absolute_url(), str(phase.job))
    return form_page(
        request,
        form,
        lambda: edit_phase(phase, person=person_of(request), version=form.opened_on, details=form.details),
        page,
    )


@require_POST
@does_the_work
def phase_move(request: HttpRequest, pk: int) -> HttpResponse:
    phase = get_phase_for(person_of(request), pk)
    move_phase(phase, up=request.POST.get("way") == "up")
    return redirect(f"{reverse('jobs:phases', args=[phase.job_id])}#phase{phase.pk}")


@require_POST
@does_the_work
def phase_take_out(request: HttpRequest, pk: int) -> HttpResponse:
    phase = get_phase_for(person_of(request), pk)
    try:
        take_out_phase(phase, person=person_of(request))
    except PhaseInUseError as error:
        messages.error(request, str(error))
    else:
        messages.success(request, f"“{phase.title}” is taken out.")
    return redirect("jobs:phases", phase.job_id)


@require_http_methods(["GET", "HEAD", "POST"])
@does_the_work
def phases_done(request: HttpRequest, pk: int) -> HttpResponse:
    shown = how_far_page(person_of(request), pk)
    forms = done_forms(shown.phases, shown.rows, request.POST or None)
    status = 200
    if shown.job.is_closed:
        messages.error(request, f"Job {shown.job.number} is closed: how far it is changes no more.")
        return redirect(shown.job)
    if request.method == "POST":
        if all(form.is_valid() for form in forms):
            for form in forms:
                mark_done(form.phase, form.done, person=person_of(request))
            return redirect(shown.job)
        status = AMISS
    return render(request, "jobs/done.html", {"job": shown.job, "forms": forms}, status=status)
