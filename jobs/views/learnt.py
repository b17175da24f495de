"""What finished jobs teach."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.access import person_of
from jobs.queries.learnt import learnt_page, look_back_page


@require_safe
def learnt(request: HttpRequest) -> HttpResponse:
    return render(request, "jobs/learnt.html", {"shown": learnt_page()})


@require_safe
def look_back(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "jobs/look_back.html", {"shown": look_back_page(person_of(request), pk)})
