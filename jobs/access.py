"""Who may do this? The first line of every view."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, ParamSpec, cast

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse

from jobs.enums import Role
from jobs.models import Person

P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]


class PersonRequest(HttpRequest):
    """A request of somebody who is logged in, which is all but the client's link and the log-in page."""

    user: Person
    htmx: Any


def person_of(request: HttpRequest) -> Person:
    """Who asks; only for views that require log-in."""
    return cast(Person, request.user)


def only(*roles: str) -> Callable[[View[P]], View[P]]:
    """Refuses (403) anybody whose role is not named."""

    def guard(view: View[P]) -> View[P]:
        def guarded(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
            if person_of(request).role not in roles:
                raise PermissionDenied
            return view(request, *args, **kwargs)

        return cast(View[P], wraps(view)(guarded))

    return guard


owner_only = only(Role.OWNER)
sees_prices = only(Role.OWNER, Role.BOOKKEEPER)
does_the_work = only(Role.OWNER, Role.MAKER)
