"""Which jobs are there, and how does each stand?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of
from jobs.enums import JOB_STEPS, JobState
from jobs.forms.jobs import JobForm, NewJobForm
from jobs.models import Client, Job
from jobs.queries.clients import get_client_for
from jobs.queries.job_page import job_page
from jobs.queries.jobs import client_names, get_job_for, job_list_page
from jobs.services.jobs import StepError, add_job, archive_job, edit_job, move_job
from jobs.still_open import open_on
from jobs.views.editing import FormPage, form_page

FORM = "jobs/job_form.html"


@require_safe
def job_list(request: HttpRequest) -> HttpResponse:
    listed = job_list_page(
        words=request.GET.get("words", "").strip(),
        state=request.GET.get("state", ""),
        number=request.GET.get("page"),
    )
    return render(request, "jobs/list.html", {"listed": listed})


@require_safe
def job_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/detail.html", {"sheet": job_page(person_of(request), pk)})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def job_add(request: HttpRequest) -> HttpResponse:
    person, old = person_of(request), _job_to_copy(request)
    client = old.client if old else _client_meant(request)
    initial = {"title": old.title, "fitted_out": old.fitted_out} if old else None
    form = NewJobForm(request.POST or None, client=client, initial=initial)
    page = FormPage("New job", "Add job", reverse("jobs:list"), "Jobs", template=FORM)
    if old:
        page.above = f"The phases and their take-off are copied from {old}. Hours, costs and prices are not."
        del form.fields["phase_list"]
    page.more = {"client_names": client_names()}
    return form_page(
        request,
        form,
        lambda: add_job(
            person=person,
            details=form.details,
            phase_list=form.cleaned_data.get("phase_list"),
            copy_of=old,
        ),
        page,
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def job_edit(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_job_for(person_of(request), pk)
    page = FormPage(f"Edit {job}", "Save", job.get_absolute_url(), job.number, template=FORM)
    page.more = {"client_names": client_names()}
    form = JobForm(request.POST or None, instance=job)
    return form_page(
        request,
        form,
        lambda: edit_job(job, person=person_of(request), version=form.opened_on, details=form.details),
        page,
    )


@require_POST
@owner_only
def job_move(request: HttpRequest, pk: int) -> HttpResponse:
    job, to = get_job_for(person_of(request), pk), request.POST.get("to", "")
    closes = to == JobState.CLOSED and to in JOB_STEPS[job.state]
    if closes and (asked := _ask_of_what_is_open(request, job, "Close it", to)):
        return asked
    try:
        moved = move_job(job, to=to, person=person_of(request))
    except StepError as error:
        messages.error(request, str(error))
    else:
        messages.success(request, f"This job is now “{moved.get_state_display()}”.")
    return redirect(job)


@require_POST
@owner_only
def job_archive(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_job_for(person_of(request), pk)
    archived = request.POST.get("undo") is None
    if archived and (asked := _ask_of_what_is_open(request, job, "Put it away")):
        return asked
    archive_job(job, person=person_of(request), archived=archived)
    messages.success(request, "This job is put away." if archived else "This job is on the list again.")
    return redirect(job)


def _ask_of_what_is_open(request: HttpRequest, job: Job, act: str, to: str = "") -> HttpResponse | None:
    """Once, before a job with anything still open is closed or put away."""
    if request.POST.get("sure") or not (still_open := open_on(job)):
        return None
    asked = {"job": job, "act": act, "to": to, "still_open": still_open}
    return render(request, "jobs/still_open.html", asked)


def _client_meant(request: HttpRequest) -> Client | None:
    key = request.GET.get("client", "")
    return get_client_for(person_of(request), int(key)) if key.isdigit() else None


def _job_to_copy(request: HttpRequest) -> Job | None:
    key = request.GET.get("copy", "")
    return get_job_for(person_of(request), int(key)) if key.isdigit() else None
