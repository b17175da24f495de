"""One search box for everything."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs import search
from jobs.access import person_of


@require_safe
def find(request: HttpRequest) -> HttpResponse:
    words = request.GET.get("q", "").strip()[:100]
    return render(
        request, "jobs/find.html", {"words": words, "groups": search.find(words, person_of(request))}
    )
