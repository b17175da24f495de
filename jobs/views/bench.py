"""The phone's pages: what runs, what was done today, hours of a day, a cost, a note."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.html import format_html
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import person_of
from jobs.forms.bench import (
    CostForm,
    HoursForm,
    NoteForm,
    StartForm,
    StopForm,
    SwitchForm,
    messages_by_field,
)
from jobs.models import Person, TaxRate
from jobs.queries.bench import bench_page, last_phase, open_jobs, running_now
from jobs.refusals import RefusedError
from jobs.services.bench import ACTS
from jobs.services.phone import Answer


@require_safe
def bench(request: HttpRequest) -> HttpResponse:
    page = bench_page(person_of(request))
    return render(request, "jobs/bench/timer.html", {"page": page, "running": page.running})


@require_POST
def start(request: HttpRequest) -> HttpResponse:
    return _timer(request, "start", StartForm(request.POST))


@require_POST
def switch(request: HttpRequest) -> HttpResponse:
    return _timer(request, "switch", SwitchForm(request.POST))


@require_POST
def stop(request: HttpRequest) -> HttpResponse:
    return _timer(request, "stop", StopForm(request.POST))


@require_http_methods(["GET", "HEAD", "POST"])
def hours(request: HttpRequest) -> HttpResponse:
    form = HoursForm(request.POST or None, initial=_usual(person_of(request)))
    return _typed(request, "hours", form)


@require_http_methods(["GET", "HEAD", "POST"])
def cost(request: HttpRequest) -> HttpResponse:
    rate = TaxRate.objects.filter(is_default=True).order_by("-from_date").first()
    usual = {**_usual(person_of(request)), "rate": rate}
    return _typed(request, "cost", CostForm(request.POST or None, request.FILES or None, initial=usual))


@require_http_methods(["GET", "HEAD", "POST"])
def note(request: HttpRequest) -> HttpResponse:
    usual = _usual(person_of(request))
    return _typed(request, "note", NoteForm(request.POST or None, request.FILES or None, initial=usual))


def _timer(request: HttpRequest, kind: str, form: forms.Form) -> HttpResponse:
    """One press of a button: what came of it stands at the head of the bench page."""
    if form.is_valid():
        _act(request, kind, form)
    else:
        for said in messages_by_field(form).values():
            messages.error(request, " ".join(said))
    return redirect("jobs:bench")


def _typed(request: HttpRequest, kind: str, form: Any) -> HttpResponse:
    """A form of the bench: done, it leads to the bench page; refused, what was typed is still there."""
    if request.method == "POST" and form.is_valid() and _act(request, kind, form):
        return redirect("jobs:bench")
    form.offer(open_jobs())
    shown = {"form": form, "kind": kind, "running": running_now(person_of(request))}
    return render(request, f"jobs/bench/{kind}.html", shown, status=422 if form.errors else 200)


def _act(request: HttpRequest, kind: str, form: forms.Form) -> bool:
    try:
        answer = ACTS[kind](person_of(request), form.cleaned_data)
    except RefusedError as refused:
        form.add_error(refused.beside if refused.beside in form.fields else None, str(refused))
        if kind in {"start", "switch", "stop"}:
            messages.error(request, str(refused))
        return False
    messages.success(request, _with_link(answer))
    for flag in answer["flags"]:
        messages.warning(request, flag)
    return True


def _with_link(answer: Answer) -> str:
    """What was done, and where to correct it if that was said."""
    if "correct" not in answer:
        return str(answer["words"])
    return format_html('{} <a href="{}">Correct it</a>', answer["words"], answer["correct"])


def _usual(person: Person) -> dict[str, Any]:
    """What is most likely meant: the phase last worked on, today."""
    return {"key": uuid4(), "phase": last_phase(person), "on_date": timezone.localdate()}
