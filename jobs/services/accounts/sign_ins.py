"""Which browsers is a person logged in on, and how are they put out?"""

from __future__ import annotations

from datetime import datetime
from importlib import import_module

from django.conf import settings
from django.contrib.sessions.backends.base import SessionBase
from django.db import transaction

from jobs import history
from jobs.models import Person, SignIn


def _session(key: str) -> SessionBase:
    store: type[SessionBase] = import_module(settings.SESSION_ENGINE).SessionStore
    return store(key)


def note_sign_in(
    *, person: Person, session_key: str, address: str | None, browser: str, now: datetime
) -> SignIn:
    """From now on the browser stands in the person's list."""
    return SignIn.objects.create(
        person=person, session_key=session_key, at=now, address=address, browser=browser[:200]
    )


def forget_sign_in(session_key: str | None) -> None:
    """The browser has logged out."""
    SignIn.objects.filter(session_key=session_key or "").delete()


@transaction.atomic
def end_sign_in(*, sign_in: SignIn, by: Person) -> None:
    """The browser is out at once."""
    _session(sign_in.session_key).delete()
    history.record(person=by, thing=sign_in.person, action="ended a log-in")
    sign_in.delete()


@transaction.atomic
def end_all_sign_ins(*, person: Person, by: Person | None, but: str | None = None) -> int:
    """Every browser of the person is out, save the one named; returns how many."""
    ended = 0
    for sign_in in SignIn.objects.filter(person=person).exclude(session_key=but or ""):
        _session(sign_in.session_key).delete()
        sign_in.delete()
        ended += 1
    if ended:
        history.record(person=by, thing=person, action="ended every log-in")
    return ended
