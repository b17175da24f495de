"""Other rooms' links appear on the job page for the roles they are meant for, and in their order."""

from __future__ import annotations

import pytest

from jobs import job_links
from jobs.enums import JobState, Role
from jobs.job_links import JobLink, Look, PhaseLink, Shown
from jobs.models import Job, Person, Phase

JOB = Job(pk=7)
OWNER = Person(role=Role.OWNER)
MAKER = Person(role=Role.MAKER)


@pytest.fixture(autouse=True)
def no_links(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(job_links, "_job_links", {})
    monkeypatch.setattr(job_links, "_phase_links", {})


def test_acts_and_places_stand_apart_and_in_order() -> None:
    job_links.register(JobLink("Second", "jobs:detail", 2))
    job_links.register(JobLink("First", "jobs:client", 1))
    job_links.register(JobLink("Do it", "materials:material", 0, is_act=True))
    links = job_links.links_for(JOB, OWNER)
    assert [place.label for place in links.places] == ["First", "Second"]
    assert [act.label for act in links.acts] == ["Do it"]


def test_a_link_is_shown_to_its_roles_alone() -> None:
    job_links.register(JobLink("Prices", "jobs:detail", 1, roles=frozenset({Role.OWNER})))
    assert job_links.links_for(JOB, MAKER).places == []
    assert job_links.links_for(JOB, OWNER).places == [Shown("Prices", "/jobs/7/")]


def test_a_link_says_how_things_stand() -> None:
    job_links.register(JobLink("Quotes", "jobs:detail", 1, look=lambda job, person: Look("revision 2")))
    assert job_links.links_for(JOB, MAKER).places[0].says == "revision 2"


def test_the_same_address_again_replaces() -> None:
    job_links.register(JobLink("Old", "jobs:detail", 1))
    job_links.register(JobLink("New", "jobs:detail", 1))
    assert [place.label for place in job_links.links_for(JOB, OWNER).places] == ["New"]


def test_a_phase_has_links_of_its_own() -> None:
    job_links.register(PhaseLink("Take-off", "jobs:detail", 1))
    assert job_links.phase_places_for(Phase(pk=3), MAKER) == [Shown("Take-off", "/jobs/3/")]
    assert job_links.links_for(JOB, MAKER).places == []


def test_a_link_is_hidden_in_some_states() -> None:
    job_links.register(JobLink("Change", "jobs:detail", 1, hidden_in=frozenset({JobState.CLOSED})))
    assert job_links.links_for(Job(pk=7, state="closed"), OWNER).places == []
    assert len(job_links.links_for(JOB, OWNER).places) == 1


def test_the_next_step_is_that_of_the_room_later_in_the_work() -> None:
    measure, price = Shown("Measure", "/measure/"), Shown("Price", "/price/")
    job_links.register(JobLink("Prices", "jobs:client", 2, look=lambda job, person: Look("", price)))
    job_links.register(JobLink("Measures", "jobs:detail", 1, look=lambda job, person: Look("", measure)))
    job_links.register(JobLink("Bills", "jobs:progress", 3, look=lambda job, person: Look("none")))
    assert job_links.links_for(JOB, OWNER).next_step == price
