"""Which workshop is this, as read once a request?"""

from __future__ import annotations

from contextvars import ContextVar, Token

from jobs.models import Workshop

_Shelf = dict[str, Workshop]
_read_once: ContextVar[_Shelf | None] = ContextVar("workshop_of_this_request", default=None)


class NotSetUpError(Exception):
    """There is no workshop yet; `manage.py setup` makes one."""


def current_workshop() -> Workshop:
    """The one workshop; within a request it is read once."""
    shelf = _read_once.get()
    if shelf and "workshop" in shelf:
        return shelf["workshop"]
    workshop = Workshop.objects.defer("logo").filter(pk=1).first()
    if workshop is None:
        raise NotSetUpError("Not set up yet: run “python manage.py setup”.")
    if shelf is not None:
        shelf["workshop"] = workshop
    return workshop


def begin_request() -> Token[_Shelf | None]:
    """From here until `end_request` the workshop is read once."""
    return _read_once.set({})


def end_request(token: Token[_Shelf | None]) -> None:
    _read_once.reset(token)
