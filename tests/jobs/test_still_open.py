"""What is still open is listed once before a job is closed or put away."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import still_open
from jobs.models import Job, Person
from jobs.refusals import RefusedError
from jobs.services.phases import Done, mark_done
from jobs.still_open import Open
from tests import make
from tests.checks import says


@pytest.fixture
def something_open(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(still_open, "_sources", [lambda job: [Open("Invoice 7 is not paid.", "/7/")]])


@pytest.fixture
def nothing_open(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(still_open, "_sources", [lambda job: []])


def moved(browser: Browser, to: str, **more: str) -> tuple[object, Job]:
    job = make.job(state="handed_over")
    answer = browser.post(reverse("jobs:move", args=[job.pk]), {"to": to, **more}, follow=True)
    job.refresh_from_db()
    return answer, job


@pytest.mark.usefixtures("something_open")
def test_closing_asks_once(as_owner: Browser) -> None:
    answer, job = moved(as_owner, "closed")
    assert says(answer, "Still open on this job", "Invoice 7 is not paid.", "Close it all the same")
    assert job.state == "handed_over"


@pytest.mark.usefixtures("something_open")
def test_closing_is_allowed_once_it_was_asked(as_owner: Browser) -> None:
    assert moved(as_owner, "closed", sure="yes")[1].state == "closed"


@pytest.mark.usefixtures("something_open")
def test_other_steps_ask_nothing(as_owner: Browser) -> None:
    assert moved(as_owner, "bench")[1].state == "bench"


@pytest.mark.usefixtures("nothing_open")
def test_with_nothing_open_nothing_is_asked(as_owner: Browser) -> None:
    assert moved(as_owner, "closed")[1].state == "closed"


@pytest.mark.usefixtures("something_open")
def test_putting_away_asks_and_taking_out_does_not(as_owner: Browser) -> None:
    job = make.job(state="closed")
    address = reverse("jobs:archive", args=[job.pk])
    assert says(as_owner.post(address), "Invoice 7 is not paid.", "Put it away all the same")
    assert says(as_owner.post(address, {"sure": "yes"}, follow=True), "This job is put away.")
    assert says(as_owner.post(address, {"undo": "yes"}, follow=True), "This job is on the list again.")


def test_how_far_a_closed_job_is_changes_no_more(as_owner: Browser, owner: Person) -> None:
    phase = make.phase(job=make.job(state="closed"))
    address = reverse("jobs:done", args=[phase.job.pk])
    assert says(as_owner.get(address, follow=True), "is closed: how far it is changes no more")
    assert not says(as_owner.get(phase.job.get_absolute_url()), "Say how far it is")
    with pytest.raises(RefusedError, match="is closed"):
        mark_done(phase, Done(50), person=owner)
