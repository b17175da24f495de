"""Scripts read and log through the same rules as the pages, within what their token allows."""

from __future__ import annotations

import json
import uuid
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from jobs.enums import JobState
from jobs.models import ApiToken, CostEntry, Person, Phase, TimeEntry
from jobs.services.accounts.tokens import make_token
from tests import make

pytestmark = pytest.mark.django_db


class Script:
    """A script of the workshop's with a token."""

    def __init__(self, person: Person, *scopes: str) -> None:
        token = make_token(person=person, name="clock", scopes=scopes, now=timezone.now())
        self.browser = Browser(headers={"Authorization": f"Bearer {token}"})

    def get(self, name: str, *args: Any, **asked: Any) -> HttpResponse:
        return self.browser.get(reverse(f"api:{name}", args=args), asked)

    def post(self, name: str, **said: Any) -> HttpResponse:
        body = json.dumps(said, default=str)
        return self.browser.post(reverse(f"api:{name}"), body, content_type="application/json")


@pytest.fixture
def phase(workshop: object) -> Phase:
    return make.phase(job=make.job(state=JobState.BENCH))


def hours_of(phase: Phase, **changed: Any) -> dict[str, Any]:
    today = timezone.localdate()
    return {"key": uuid.uuid4(), "phase_id": phase.pk, "on_date": today, "hours": "1.5", **changed}


def cost_of(phase: Phase, **changed: Any) -> dict[str, Any]:
    today = timezone.localdate()
    return {"key": uuid.uuid4(), "phase_id": phase.pk, "on_date": today, "net": "12.30", **changed}


def test_jobs_phases_and_hours_are_read(owner: Person, phase: Phase) -> None:
    script = Script(owner, "read", "hours")
    script.post("hours", **hours_of(phase, note="planing"))
    assert [job["id"] for job in script.get("jobs").json()] == [phase.job.pk]
    assert script.get("jobs", state="lost").json() == []
    assert script.get("phases", phase.job.pk).json()[0]["title"] == phase.title
    (entry,) = script.get("job_hours", phase.job.pk).json()
    assert (entry["seconds"], entry["note"]) == (5400, "planing")
    tomorrow = timezone.localdate() + timedelta(days=1)
    assert script.get("job_hours", phase.job.pk, from_date=tomorrow).json() == []


@pytest.mark.parametrize(
    ("role", "read"), [("owner", ["hers", "his"]), ("bookkeeper", ["hers", "his"]), ("maker", ["hers"])]
)
def test_whose_hours_a_token_reads_goes_by_the_role_of_now(phase: Phase, role: str, read: list[str]) -> None:
    her = make.person(role="owner")
    script = Script(her, "read")
    make.hours(phase=phase, person=her, note="hers")
    make.hours(phase=phase, note="his")
    Person.objects.filter(pk=her.pk).update(role=role)
    hours = script.get("job_hours", phase.job.pk).json()
    assert sorted(entry["note"] for entry in hours) == read


def test_hours_sent_twice_are_one_entry(owner: Person, phase: Phase) -> None:
    script, said = Script(owner, "hours"), hours_of(phase)
    assert script.post("hours", **said).status_code == 201
    again = script.post("hours", **said)
    assert (again.status_code, again.json()["new"]) == (200, False)
    assert TimeEntry.objects.get().person == owner


def test_a_cost_is_in_the_ledger(owner: Person, phase: Phase) -> None:
    assert Script(owner, "costs").post("costs", **cost_of(phase)).status_code == 201
    assert CostEntry.objects.get().net == Decimal("12.30")


@pytest.mark.parametrize(
    ("scopes", "name"), [(["hours"], "costs"), (["costs"], "hours"), (["read"], "hours"), (["read"], "costs")]
)
def test_a_token_does_no_more_than_it_may(owner: Person, phase: Phase, scopes: list[str], name: str) -> None:
    said = hours_of(phase) if name == "hours" else cost_of(phase)
    assert Script(owner, *scopes).post(name, **said).status_code == 403
    assert not TimeEntry.objects.exists()
    assert not CostEntry.objects.exists()


def test_writing_scopes_do_not_read(owner: Person) -> None:
    assert Script(owner, "hours", "costs").get("jobs").status_code == 403


@pytest.mark.parametrize(
    "changed",
    [
        {"hours": "0"},
        {"hours": "25"},
        {"hours": "x"},
        {"key": "no"},
        {"on_date": "2026-02-30"},
        {"phase_id": -1},
    ],
)
def test_what_cannot_be_meant_is_refused_with_the_field(
    owner: Person, phase: Phase, changed: dict[str, str]
) -> None:
    answer = Script(owner, "hours").post("hours", **hours_of(phase, **changed))
    assert answer.status_code == 422
    assert next(iter(changed)) in answer.text


def test_the_rules_of_the_pages_hold(owner: Person, phase: Phase) -> None:
    script = Script(owner, "hours")
    later = timezone.localdate() + timedelta(days=1)
    answer = script.post("hours", **hours_of(phase, on_date=later))
    assert (answer.status_code, answer.json()["said"]) == (409, "That day is still to come.")
    lost = make.phase(job=make.job(state=JobState.LOST))
    assert script.post("hours", **hours_of(lost)).status_code == 409
    assert script.post("hours", **hours_of(phase, phase_id=10**6)).status_code == 404


@pytest.mark.parametrize("header", ["", "Bearer", "Bearer nothing", "Basic abc", "Bearer kerf_x"])
def test_no_good_token_no_answer(workshop: object, header: str) -> None:
    browser = Browser(headers={"Authorization": header})
    assert browser.get(reverse("api:jobs")).status_code == 401


def test_a_token_ends_with_its_person_or_by_hand(owner: Person, as_owner: Browser) -> None:
    script = Script(owner, "read")
    as_owner.post(reverse("jobs:token-end", args=[ApiToken.objects.get().pk]))
    assert script.get("jobs").status_code == 401
    leaver = make.person()
    other = Script(leaver, "read")
    Person.objects.filter(pk=leaver.pk).update(is_active=False)
    assert other.get("jobs").status_code == 401


def test_a_token_is_shown_once_and_kept_as_its_hash(as_owner: Browser) -> None:
    page = as_owner.post(reverse("jobs:tokens"), {"name": "clock", "scopes": ["read"]}).text
    assert "kerf_" in page
    assert "kerf_" not in as_owner.get(reverse("jobs:tokens")).text
    assert not ApiToken.objects.filter(token_sha256__startswith="kerf_").exists()


def test_a_token_must_be_for_something(owner: Person, as_owner: Browser) -> None:
    assert "required" in as_owner.post(reverse("jobs:tokens"), {"name": "clock"}).text
    with pytest.raises(ValidationError):
        make_token(person=owner, name="clock", scopes=["everything"], now=timezone.now())
    assert not ApiToken.objects.exists()


def test_the_description_is_generated(as_stranger: Browser) -> None:
    described = as_stranger.get(reverse("api:openapi-json")).json()
    assert described["openapi"].startswith("3.")
    assert {"/api/jobs", "/api/hours", "/api/costs"} <= described["paths"].keys()


@pytest.mark.parametrize("count", [1, 3])
def test_lists_ask_the_same_however_long(
    owner: Person, phase: Phase, count: int, django_assert_num_queries: Any
) -> None:
    script = Script(owner, "read", "hours")
    for _ in range(count):
        make.job()
        script.post("hours", **hours_of(phase))
    with django_assert_num_queries(3):
        script.get("jobs")
    with django_assert_num_queries(4):
        script.get("job_hours", phase.job.pk)
