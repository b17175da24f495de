"""How does a job stand against what was agreed?"""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.access import person_of
from jobs.exports import FORMATS, as_file
from jobs.queries.progress_page import progress_page, progress_table


@require_safe
def job_progress(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/progress.html", {"shown": progress_page(person_of(request), pk)})


@require_safe
def job_progress_file(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    if kind not in FORMATS:
        raise Http404
    return as_file(progress_table(progress_page(person_of(request), pk)), kind)
