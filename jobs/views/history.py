"""Who changed what, beside the record and on a page of its own."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.access import person_of
from jobs.queries.history import history_page


@require_safe
def history(request: HttpRequest, record: str, pk: int) -> HttpResponse:
    shown = history_page(person_of(request), record, pk, request.GET.get("page"))
    return render(request, "jobs/history.html", {"shown": shown})
