"""Which jobs are there, and how does each stand?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from jobs.models import Job


@require_safe
def job_list(request: HttpRequest) -> HttpResponse:
    jobs = Job.objects.select_related("client").filter(archived_at=None)
    return render(request, "jobs/list.html", {"jobs": jobs})


@require_safe
def job_detail(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    return render(request, "jobs/detail.html", {"job": job, "phases": job.phases.all()})
