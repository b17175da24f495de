"""By which rules does the workshop work?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.access import owner_only


@require_safe
@owner_only
def workshop(request: HttpRequest) -> HttpResponse:
    return render(request, "jobs/workshop.html")
