"""Time sheets: everybody's week, one person's, and what is put right, approved and locked in it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import owner_only, person_of
from jobs.exports import FORMATS, as_file
from jobs.forms.sheets import CorrectForm, EndForm, ReasonForm
from jobs.models import TimeEntry
from jobs.queries.bench import open_jobs
from jobs.queries.sheets import (
    Week,
    get_entry_for,
    get_sheet_person_for,
    sheet_page,
    sheet_table,
    sheets_page,
    week_of,
)
from jobs.refusals import RefusedError
from jobs.services.bench import work_of
from jobs.services.hours import length, monday_of
from jobs.services.sheets import (
    approve_week,
    correct_entry,
    end_timer,
    lock_week,
    may_correct,
    open_week,
    void_entry,
)
from jobs.views.editing import FormPage, form_page


@require_safe
def sheets(request: HttpRequest) -> HttpResponse:
    page = sheets_page(person_of(request), week_of(request.GET.get("week", "")))
    return render(request, "jobs/sheets/list.html", {"page": page})


@require_safe
def sheets_file(request: HttpRequest, week: str, kind: str) -> HttpResponse:
    if kind not in FORMATS:
        raise Http404
    viewer, shown = person_of(request), week_of(week)
    people = [row.person for row in sheets_page(viewer, shown).rows]
    return as_file(sheet_table(viewer, people, shown), kind)


@require_safe
def sheet(request: HttpRequest, pk: int, week: str) -> HttpResponse:
    viewer = person_of(request)
    page = sheet_page(viewer, get_sheet_person_for(viewer, pk), week_of(week))
    return render(request, "jobs/sheets/sheet.html", {"page": page, "form": ReasonForm()})


@require_POST
@owner_only
def approve(request: HttpRequest, pk: int, week: str) -> HttpResponse:
    return _week_act(request, pk, week, lambda whose: approve_week(**whose), "Approved.")


@require_POST
@owner_only
def lock(request: HttpRequest, pk: int, week: str) -> HttpResponse:
    return _week_act(request, pk, week, lambda whose: lock_week(**whose), "Locked.")


@require_POST
@owner_only
def open_again(request: HttpRequest, pk: int, week: str) -> HttpResponse:
    reason = request.POST.get("reason", "")
    return _week_act(request, pk, week, lambda whose: open_week(**whose, reason=reason), "Open again.")


@require_http_methods(["GET", "HEAD", "POST"])
def correct(request: HttpRequest, pk: int) -> HttpResponse:
    entry = _mine_to_correct(request, pk)
    form = CorrectForm(request.POST or None, entry=entry)
    form.offer(open_jobs(also=entry))

    def save() -> str:
        said = form.cleaned_data
        done = {
            "key": said["key"],
            "work": work_of(said),
            "hours": form.hours_said(),
            "reason": said["reason"],
        }
        _in_words(lambda: correct_entry(entry=entry, by=person_of(request), **done))
        return _sheet_address(entry)

    page = FormPage(
        "Correct an entry", "Correct it", _sheet_address(entry), "The sheet", above=_entry_words(entry)
    )
    return form_page(request, form, save, page)


@require_http_methods(["GET", "HEAD", "POST"])
def void(request: HttpRequest, pk: int) -> HttpResponse:
    entry = _mine_to_correct(request, pk)
    form = ReasonForm(request.POST or None)

    def save() -> str:
        _in_words(lambda: void_entry(entry=entry, by=person_of(request), reason=form.cleaned_data["reason"]))
        return _sheet_address(entry)

    page = FormPage(
        "Take an entry out", "Take it out", _sheet_address(entry), "The sheet", above=_entry_words(entry)
    )
    return form_page(request, form, save, page)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def end(request: HttpRequest, pk: int) -> HttpResponse:
    entry = get_entry_for(person_of(request), pk)
    form = EndForm(request.POST or None, initial={"day": entry.on_date})

    def save() -> str:
        said, by = form.cleaned_data, person_of(request)
        _in_words(lambda: end_timer(entry=entry, by=by, at=form.at_said(), reason=said["reason"]))
        return _sheet_address(entry)

    page = FormPage(
        "When did it end?", "It ended then", _sheet_address(entry), "The sheet", above=_entry_words(entry)
    )
    return form_page(request, form, save, page)


def _mine_to_correct(request: HttpRequest, pk: int) -> TimeEntry:
    entry = get_entry_for(person_of(request), pk)
    if not may_correct(person_of(request), entry):
        raise PermissionDenied
    return entry


def _week_act(
    request: HttpRequest, pk: int, week: str, act: Callable[[dict[str, Any]], object], done: str
) -> HttpResponse:
    by, shown = person_of(request), week_of(week)
    whose = {"person": get_sheet_person_for(by, pk), "monday": shown.monday, "by": by}
    try:
        act(whose)
        messages.success(request, done)
    except RefusedError as refused:
        messages.error(request, str(refused))
    return redirect("jobs:sheet", pk, shown.word)


def _in_words(act: Callable[[], object]) -> None:
    """What the service refuses stands beside its field, or above the form."""
    try:
        act()
    except RefusedError as refused:
        words = str(refused)
        raise ValidationError({refused.beside: words} if refused.beside else words) from refused


def _sheet_address(entry: TimeEntry) -> str:
    return reverse("jobs:sheet", args=[entry.person_id, Week(monday_of(entry.on_date)).word])


def _entry_words(entry: TimeEntry) -> str:
    if entry.is_running:
        began = timezone.localtime(entry.started_at)
        return f"{entry.person.name}: a timer on {entry.phase} since {began:%H:%M on %A %-d %B}."
    return f"{entry.person.name}, {entry.on_date:%A %-d %B}: {length(entry.seconds or 0)} on {entry.phase}."
