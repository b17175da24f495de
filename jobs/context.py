"""What does every page know?"""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.utils import timezone

from jobs.models import Person
from jobs.queries.copies import copies_alert
from jobs.workshop import NotSetUpError, current_workshop

ROOMS = {
    "account": "",
    "bench": "bench",
    "clients": "clients",
    "entries": "bench",
    "materials": "materials",
    "sheets": "bench",
    "workshop": "workshop",
}


OF_A_JOB = {("materials", word) for word in ("jobs", "phases", "plans", "sawn", "take-off")}
"""Pages of the materials room that belong to one job."""


def workshop(request: HttpRequest) -> dict[str, Any]:
    """The workshop, for its name and currency, the room of the page, and what must not be overlooked."""
    words = request.path_info.strip("/").split("/")
    room = "jobs" if tuple(words[:2]) in OF_A_JOB else ROOMS.get(words[0], "jobs")
    try:
        return {"workshop": current_workshop(), "room": room, "copies_alert": _copies_alert(request)}
    except NotSetUpError:
        return {"workshop": None, "room": room}


def _copies_alert(request: HttpRequest) -> str:
    """For owners alone, on whole pages: an htmx part stands in a page that says it already."""
    user = getattr(request, "user", None)
    is_owner = isinstance(user, Person) and user.is_authenticated and user.is_owner
    return copies_alert(timezone.now()) if is_owner and not request.headers.get("HX-Request") else ""
