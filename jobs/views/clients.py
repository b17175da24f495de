"""For whom does the workshop work?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from jobs.models import Client


@require_safe
def client_list(request: HttpRequest) -> HttpResponse:
    return render(request, "jobs/clients.html", {"clients": Client.objects.filter(archived_at=None)})


@require_safe
def client_detail(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    return render(request, "jobs/client.html", {"client": client, "jobs": client.jobs.all()})
