"""With no room left, the person is told, nothing half is stored, and it goes on once there is room."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import OperationalError, connection
from django.test import Client as Browser
from django.urls import reverse

from config.middleware import is_disk_full
from jobs.models import Client
from tests import make

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults]


def pages(limit: int | None = None) -> int:
    """How many pages the database has; with a limit, it may not grow past it."""
    with connection.cursor() as cursor:
        cursor.execute("VACUUM")  # pages that other tests left empty would be room
        if limit is not None:
            cursor.execute(f"PRAGMA max_page_count = {limit}")
        cursor.execute("PRAGMA page_count")
        return int(cursor.fetchone()[0])


@pytest.mark.skipif(connection.vendor != "sqlite", reason="the limit on pages is SQLite's")
def test_a_form_sent_to_a_full_disk() -> None:
    make.workshop()
    browser = Browser()
    browser.force_login(make.person(role="owner"))
    said = {"name": "Full House", "notes": "x" * 20_000}
    pages(limit=pages() + 1)
    try:
        answer = browser.post(reverse("jobs:client-add"), said)
        assert answer.status_code == 507
        assert "Nothing of what you just sent was saved" in answer.text
        assert not Client.objects.filter(name="Full House").exists()
    finally:
        pages(limit=1_000_000)
    assert browser.post(reverse("jobs:client-add"), said).status_code == 302
    assert Client.objects.filter(name="Full House").exists()


class FullInPostgresError(Exception):
    sqlstate = "53100"


@pytest.mark.parametrize(
    ("trouble", "cause", "full"),
    [
        (OSError(28, "No space left on device"), None, True),
        (OSError(13, "Permission denied"), None, False),
        (OperationalError("database or disk is full"), None, True),
        (OperationalError("could not extend file"), FullInPostgresError(), True),
        (OperationalError("database is locked"), None, False),
        (ValueError("disk is full"), None, False),
    ],
)
def test_want_of_room_is_told_from_other_trouble(trouble: Any, cause: Any, full: bool) -> None:
    trouble.__cause__ = cause
    assert is_disk_full(trouble) is full


def test_a_database_that_stays_busy(monkeypatch: pytest.MonkeyPatch) -> None:
    make.workshop()
    browser = Browser()
    browser.force_login(make.person(role="owner"))

    def busy(*_: Any, **__: Any) -> None:
        raise OperationalError("database is locked")

    monkeypatch.setattr("jobs.views.clients.add_client", busy)
    answer = browser.post(reverse("jobs:client-add"), {"name": "Busy"})
    assert answer.status_code == 503
    assert "send it again" in answer.text
