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


def workshop(request: HttpRequest) -> dict[str, Any]:
    """The workshop, for its name and currency, the room of the page, and what must not be overlooked."""
    first_word = request.path_info.strip("/").partition("/")[0]
    room = ROOMS.get(first_word, "jobs")
    try:
        return {"workshop": current_workshop(), "room": room, "copies_alert": _copies_alert(request)}
    except NotSetUpError:
        return {"workshop": None, "room": room}


def _copies_alert(request: HttpRequest) -> str:
    """For owners alone, on whole pages: an htmx part stands in a page that says it already."""
    user = getattr(request, "user", None)
    is_owner = isinstance(user, Person) and user.is_authenticated and user.is_owner
    return copies_alert(timezone.now()) if is_owner and not request.headers.get("HX-Request") else ""
