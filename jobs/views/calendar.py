"""The workshop's calendar, by its secret address."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import owner_only, person_of
from jobs.queries.calendar import calendar_feed
from jobs.services.workshop import renew_calendar


@require_safe
@login_not_required
def calendar(request: HttpRequest, key: str) -> HttpResponse:
    text = calendar_feed(key)
    if text is None:
        raise Http404
    return HttpResponse(
        text,
        content_type="text/calendar; charset=utf-8",
        headers={"Cache-Control": "private, max-age=900", "X-Robots-Tag": "noindex"},
    )


@require_POST
@owner_only
def calendar_renew(request: HttpRequest) -> HttpResponse:
    renew_calendar(person=person_of(request))
    messages.success(request, "The calendar has a new address. The old one leads nowhere.")
    return redirect(f"{reverse('jobs:workshop')}#calendar")
