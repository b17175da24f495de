"""What does every page know?"""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest

from jobs.workshop import NotSetUpError, current_workshop

ROOMS = {
    "bench": "bench",
    "clients": "clients",
    "entries": "bench",
    "materials": "materials",
    "sheets": "bench",
    "workshop": "workshop",
}


def workshop(request: HttpRequest) -> dict[str, Any]:
    """The workshop, for its name and currency, and the room the page is in, for the strip at the top."""
    first_word = request.path_info.strip("/").partition("/")[0]
    room = ROOMS.get(first_word, "jobs")
    try:
        return {"workshop": current_workshop(), "room": room}
    except NotSetUpError:
        return {"workshop": None, "room": room}
