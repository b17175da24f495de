"""The week's letter about jobs forecast past their budget."""

from __future__ import annotations

from datetime import date

import pytest
from django.core.management import call_command

from jobs.models import Job, Outbox, Person
from jobs.services.alerts import queue_alert_digest
from tests import make

TODAY = date(2026, 6, 3)
pytestmark = pytest.mark.usefixtures("owner")


def over(state: str = "bench", percent: int = 50) -> Job:
    """Ten hours and 300 agreed; six hours and 220 spent: at half done 340 are forecast, 13 % past."""
    phase = make.phase(job=make.job(state=state), percent_done=percent)
    make.budget(phase=phase)
    make.hours(phase=phase, seconds=6 * 3600)
    make.cost(phase=phase)
    return phase.job


def test_the_owner_is_told_in_figures(owner: Person) -> None:
    job = over()
    [letter] = queue_alert_digest(today=TODAY)
    assert letter.to == owner.email
    assert f"{job}: forecast £340.00 against £300.00 agreed, 13 % past it." in letter.text
    assert job.get_absolute_url() in letter.text


@pytest.mark.parametrize(("state", "percent"), [("bench", 60), ("closed", 50), ("enquiry", 50)])
def test_no_letter_within_the_share_or_when_it_cannot_help(state: str, percent: int) -> None:
    over(state, percent)
    assert queue_alert_digest(today=TODAY) == []


def test_one_letter_a_week() -> None:
    over()
    for day in (1, 3, 7, 8):
        queue_alert_digest(today=date(2026, 6, day))
    assert Outbox.objects.count() == 2


def test_makers_are_not_told_of_money() -> None:
    over()
    make.person(role="maker")
    assert len(queue_alert_digest(today=TODAY)) == 1


def test_the_command_says_what_it_did(capsys: pytest.CaptureFixture[str]) -> None:
    call_command("alert_digest")
    over()
    call_command("alert_digest")
    assert capsys.readouterr().out.splitlines() == ["No job passes its budget", "Letters for this week: 1"]
