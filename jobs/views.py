"""Pages of the jobs room."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from jobs.access import owner_only
from jobs.models import Client, Job


@require_safe
def job_list(request: HttpRequest) -> HttpResponse:
    jobs = Job.objects.select_related("client").filter(archived_at=None)
    return render(request, "jobs/list.html", {"jobs": jobs})


@require_safe
def job_detail(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    return render(request, "jobs/detail.html", {"job": job, "phases": job.phases.all()})


@require_safe
def client_list(request: HttpRequest) -> HttpResponse:
    return render(request, "jobs/clients.html", {"clients": Client.objects.filter(archived_at=None)})


@require_safe
def client_detail(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    return render(request, "jobs/client.html", {"client": client, "jobs": client.jobs.all()})


@require_safe
@owner_only
def workshop(request: HttpRequest) -> HttpResponse:
    return render(request, "jobs/workshop.html")


@require_safe
def find(request: HttpRequest) -> HttpResponse:
    words = request.GET.get("q", "").strip()
    jobs = Job.objects.filter(title__icontains=words).select_related("client")[:20] if words else []
    return render(request, "jobs/find.html", {"words": words, "jobs": jobs})
