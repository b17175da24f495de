"""The command that loads the demo never touches a workshop that is there."""

from __future__ import annotations

from datetime import date
from io import StringIO

import pytest
from django.core.management import call_command

from jobs.models import Job, Person, Workshop
from jobs.services.setup import NewWorkshop, set_up_workshop
from quotes.demo.workshop import OWNER_EMAIL, PASSWORD

pytestmark = pytest.mark.django_db


def test_asked_for_again_it_changes_nothing_and_says_the_log_in() -> None:
    for _ in range(2):
        said = StringIO()
        call_command("demo", stdout=said)
        assert OWNER_EMAIL in said.getvalue()
    assert Job.objects.count() == 3


def test_a_workshop_of_ones_own_is_left_alone() -> None:
    set_up_workshop(NewWorkshop("Elm Yard", "O", "o@example.org", PASSWORD), today=date(2026, 3, 2))
    said = StringIO()
    call_command("demo", stdout=said)
    assert "nothing was changed" in said.getvalue()
    assert not Job.objects.exists()
    assert Workshop.objects.get().name == "Elm Yard"
    assert Person.objects.count() == 1
