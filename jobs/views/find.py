"""One search box for everything."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.models import Job


@require_safe
def find(request: HttpRequest) -> HttpResponse:
    words = request.GET.get("q", "").strip()
    jobs = Job.objects.filter(title__icontains=words).select_related("client")[:20] if words else []
    return render(request, "jobs/find.html", {"words": words, "jobs": jobs})
