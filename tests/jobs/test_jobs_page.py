"""The list of jobs, and the forms that add and change them."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Client, Job
from tests import make
from tests.checks import queries_of, says

TYPED = {"title": "Narrowboat galley", "client_name": "Alder Boats"}


def test_an_empty_list_says_so(as_owner: Browser) -> None:
    assert says(as_owner.get(reverse("jobs:list")), "No jobs at work yet.", "Add the first")


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_takes_as_many_queries_however_long(as_owner: Browser, count: int) -> None:
    for _ in range(count):
        make.job()
    assert queries_of(as_owner, reverse("jobs:list")) == 6


@pytest.mark.parametrize(
    ("state", "shown"),
    [
        ("", {"asked", "wood"}),
        ("bench", {"wood"}),
        ("closed", {"done"}),
        ("all", {"asked", "wood", "done"}),
        ("put-away", {"away"}),
        ("nonsense", {"asked", "wood"}),
    ],
)
def test_the_list_by_state(as_owner: Browser, state: str, shown: set[str]) -> None:
    make.job(title="asked")
    make.job(title="wood", state="bench")
    make.job(title="done", state="closed")
    make.job(title="away", archived_at="2026-01-01T00:00Z")
    answer = as_owner.get(reverse("jobs:list"), {"state": state})
    assert {job.title for job in answer.context["listed"].page} == shown


def test_states_are_counted_among_what_was_sought(as_owner: Browser) -> None:
    make.job(title="galley", state="bench")
    make.job(title="hut", state="bench")
    states = as_owner.get(reverse("jobs:list"), {"words": "galley"}).context["listed"].states
    assert {state.key: state.count for state in states}["bench"] == 1


@pytest.mark.parametrize("words", ["galley", "26-7", "boats galley", "BOATS"])
def test_a_job_is_found_by_number_title_or_client(as_owner: Browser, words: str) -> None:
    make.job(number="26-777", title="Galley", client=make.client(name="Alder Boats"))
    make.job(number="26-001", title="Hut")
    listed = as_owner.get(reverse("jobs:list"), {"words": words}).context["listed"]
    assert [job.number for job in listed.page] == ["26-777"]


def test_a_long_list_is_paged(as_owner: Browser) -> None:
    client = make.client()
    for _ in range(51):
        make.job(client=client)
    answer = as_owner.get(reverse("jobs:list"), {"page": "2"})
    assert len(answer.context["listed"].page) == 1
    assert says(answer, "51–51 of 51")


def test_adding_for_a_client_of_that_name(as_owner: Browser) -> None:
    client = make.client(name="Alder Boats")
    answer = as_owner.post(reverse("jobs:add"), TYPED)
    job = Job.objects.get()
    assert answer.headers["Location"] == job.get_absolute_url()
    assert (job.client, job.title) == (client, "Narrowboat galley")


def test_adding_with_a_new_client(as_owner: Browser) -> None:
    as_owner.post(reverse("jobs:add"), {**TYPED, "new_client": "on"})
    assert Job.objects.get().client.name == "Alder Boats"


def test_an_unknown_client_is_asked_about(as_owner: Browser) -> None:
    answer = as_owner.post(reverse("jobs:add"), TYPED)
    assert answer.status_code == 422
    assert says(answer, "Nobody of that name yet", "Narrowboat galley", "Alder Boats")
    assert not Client.objects.exists()


def test_a_name_two_clients_share_is_not_guessed(as_owner: Browser) -> None:
    make.client(name="Alder Boats")
    second = make.client(name="Alder Boats")
    assert says(as_owner.post(reverse("jobs:add"), TYPED), "Two clients have this name")
    as_owner.post(f"{reverse('jobs:add')}?client={second.pk}", TYPED)
    assert Job.objects.get().client == second


def test_a_new_client_of_a_known_name_is_asked_about(as_owner: Browser) -> None:
    make.client(name="Alder Boats")
    answer = as_owner.post(reverse("jobs:add"), {**TYPED, "new_client": "on"})
    assert says(answer, "There is a client of that name already")


def test_adding_from_a_phase_list(as_owner: Browser) -> None:
    make.client(name="Alder Boats")
    phases = make.phase_list("Strip out", "Lining")
    as_owner.post(reverse("jobs:add"), {**TYPED, "phase_list": phases.pk})
    assert Job.objects.get().phases.count() == 2


def test_a_copy_starts_with_the_old_title_and_client(as_owner: Browser) -> None:
    old = make.phase(title="Lining", job=make.job(title="Old hut")).job
    address = f"{reverse('jobs:add')}?copy={old.pk}"
    assert says(as_owner.get(address), "Old hut", old.client.name, "are copied from")
    as_owner.post(address, {"title": "New hut", "client_name": old.client.name})
    assert Job.objects.get(title="New hut").phases.get().title == "Lining"


@pytest.mark.parametrize("key", ["copy", "client"])
def test_what_is_not_there_cannot_be_copied(as_owner: Browser, key: str) -> None:
    assert as_owner.get(f"{reverse('jobs:add')}?{key}=999").status_code == 404


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"starts_on": "2026-05-02", "ends_on": "2026-05-01"}, "This is before the start."),
        ({"gross_mass_limit_kg": "-5"}, "A mass is more than nothing."),
        ({"gross_mass_limit_kg": "3500", "empty_mass_kg": "3600"}, "Empty it is already at its limit"),
        ({"title": ""}, "This field is required."),
        ({"starts_on": "soon"}, "Enter a valid date."),
    ],
)
def test_nonsense_is_said_beside_the_field(as_owner: Browser, typed: dict[str, str], said: str) -> None:
    make.client(name="Alder Boats")
    answer = as_owner.post(reverse("jobs:add"), {**TYPED, **typed})
    assert answer.status_code == 422
    assert says(answer, said, *[value for value in typed.values() if value])


def test_the_later_save_is_shown_both_versions(as_owner: Browser) -> None:
    job = make.job()
    address = reverse("jobs:edit", args=[job.pk])
    typed = {"client_name": job.client.name, "version": 1}
    as_owner.post(address, {**typed, "title": "Theirs"})
    answer = as_owner.post(address, {**typed, "title": "Mine"})
    assert answer.status_code == 409
    assert says(answer, "Theirs", "Mine", "Save mine over theirs")
    assert Job.objects.get().title == "Theirs"


def test_moving_says_the_new_state(as_owner: Browser) -> None:
    job = make.job()
    answer = as_owner.post(reverse("jobs:move", args=[job.pk]), {"to": "quoted"}, follow=True)
    assert says(answer, "This job is now “quoted”.")


def test_a_step_too_far_is_refused_in_words(as_owner: Browser) -> None:
    job = make.job()
    answer = as_owner.post(reverse("jobs:move", args=[job.pk]), {"to": "closed"}, follow=True)
    assert says(answer, "cannot go to “closed” in one step")


def test_put_away_and_back(as_owner: Browser) -> None:
    address = reverse("jobs:archive", args=[make.job().pk])
    assert says(as_owner.post(address, follow=True), "This job is put away.")
    assert says(as_owner.post(address, {"undo": "yes"}, follow=True), "This job is on the list again.")


@pytest.mark.parametrize("name", ["move", "archive"])
def test_a_write_is_no_link(as_owner: Browser, name: str) -> None:
    assert as_owner.get(reverse(f"jobs:{name}", args=[make.job().pk])).status_code == 405


@pytest.mark.parametrize("name", ["detail", "edit", "progress", "phases", "done", "phase-add"])
def test_an_unknown_job_is_not_there(as_owner: Browser, name: str) -> None:
    assert as_owner.get(reverse(f"jobs:{name}", args=[999])).status_code == 404


def test_an_empty_list_says_whether_there_are_others(as_owner: Browser) -> None:
    assert says(as_owner.get(reverse("jobs:list")), "No jobs at work yet.", "Add the first")
    make.job(state="closed")
    answer = as_owner.get(reverse("jobs:list"))
    assert says(answer, "No job is at work now.")
    assert not says(answer, "Add the first")


def test_the_client_stands_under_the_title_on_a_phone(as_owner: Browser) -> None:
    job = make.job(client=make.client(name="Alder Boats"))
    assert says(as_owner.get(reverse("jobs:list")), '<span class="phone-only quiet">Alder Boats</span>')
    assert not says(as_owner.get(job.client.get_absolute_url()), '<span class="phone-only quiet">')
