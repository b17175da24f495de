"""By whose clock are dates and times shown?"""

from __future__ import annotations

import zoneinfo
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from jobs.workshop import NotSetUpError, begin_request, current_workshop, end_request


class WorkshopClock:
    """Reads the workshop once a request and keeps its time; says what to type where there is none yet."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        token = begin_request()
        try:
            timezone.activate(zoneinfo.ZoneInfo(current_workshop().time_zone))
            return self.get_response(request)
        except NotSetUpError:
            return render(request, "jobs/not_set_up.html", status=503)
        finally:
            timezone.deactivate()
            end_request(token)
