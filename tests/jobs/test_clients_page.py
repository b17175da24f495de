"""Clients: the list, a client's page, adding, editing, putting away and back."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Client, HistoryEntry
from tests import make
from tests.checks import queries_of, says

TYPED = {"name": "Hollin Farm Stays", "is_company": "yes", "email": "office@example.org", "country": "gb"}


def test_an_empty_list_says_so(as_owner: Browser) -> None:
    assert says(as_owner.get(reverse("jobs:clients")), "No clients yet.")


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_takes_as_many_queries_however_long(as_owner: Browser, count: int) -> None:
    for _ in range(count):
        make.job()
    assert queries_of(as_owner, reverse("jobs:clients")) == 6


@pytest.mark.parametrize("count", [1, 3])
def test_a_client_takes_as_many_queries_however_many_jobs(as_owner: Browser, count: int) -> None:
    client = make.client()
    for _ in range(count):
        make.job(client=client)
    assert queries_of(as_owner, reverse("jobs:client", args=[client.pk])) == 5


def test_on_a_clients_page_jobs_put_away_stand_last(as_owner: Browser) -> None:
    client = make.client()
    away = make.job(client=client, number="26-900", archived_at=make.NOW)
    jobs = [make.job(client=client, number=number) for number in ("26-100", "26-200")]
    shown = as_owner.get(client.get_absolute_url()).context["shown"]
    assert list(shown.jobs) == [jobs[1], jobs[0], away]


def test_the_list_is_sifted_by_name_and_keeps_the_words(as_owner: Browser) -> None:
    make.client(name="Alder Boats")
    make.client(name="Birch Cottages")
    answer = as_owner.get(reverse("jobs:clients"), {"words": "alder"})
    assert says(answer, "Alder Boats", 'value="alder"')
    assert not says(answer, "Birch Cottages")
    make.client(name="Chêne & Fils", contact="Zoë")
    for words in ("CHENE", "zoe chêne"):
        assert says(as_owner.get(reverse("jobs:clients"), {"words": words}), "Chêne")


def test_adding(as_owner: Browser) -> None:
    answer = as_owner.post(reverse("jobs:client-add"), TYPED)
    client = Client.objects.get()
    assert answer.headers["Location"] == client.get_absolute_url()
    assert (client.name, client.is_company, client.country) == ("Hollin Farm Stays", True, "GB")
    assert HistoryEntry.objects.get(record="client").action == "added"


def test_a_bad_form_keeps_what_was_typed(as_owner: Browser) -> None:
    answer = as_owner.post(reverse("jobs:client-add"), {"name": "", "phone": "01234 5", "country": "Britain"})
    assert answer.status_code == 422
    assert says(answer, "01234 5", "This field is required.", "field wrong")
    assert not Client.objects.exists()


def test_editing_bumps_the_version(as_owner: Browser) -> None:
    client = make.client()
    as_owner.post(reverse("jobs:client-edit", args=[client.pk]), {**TYPED, "version": client.version})
    client.refresh_from_db()
    assert (client.name, client.version) == ("Hollin Farm Stays", 2)


def test_the_later_save_is_shown_both_versions(as_owner: Browser) -> None:
    client = make.client()
    address = reverse("jobs:client-edit", args=[client.pk])
    as_owner.post(address, {"name": "Theirs", "version": 1})
    answer = as_owner.post(address, {"name": "Mine", "version": 1})
    assert answer.status_code == 409
    assert says(answer, "Somebody else saved this meanwhile", "Theirs", "Mine", 'name="version" value="2"')
    client.refresh_from_db()
    assert client.name == "Theirs"


def test_sent_again_after_seeing_both_it_goes_through(as_owner: Browser) -> None:
    client = make.client()
    address = reverse("jobs:client-edit", args=[client.pk])
    as_owner.post(address, {"name": "Theirs", "version": 1})
    as_owner.post(address, {"name": "Mine", "version": 2})
    client.refresh_from_db()
    assert client.name == "Mine"


def test_sent_twice_it_is_saved_once(as_owner: Browser) -> None:
    client = make.client()
    address = reverse("jobs:client-edit", args=[client.pk])
    for _ in range(2):
        assert as_owner.post(address, {**TYPED, "version": 1}).status_code == 302
    client.refresh_from_db()
    assert client.version == 2
    assert HistoryEntry.objects.filter(action="edited").count() == 1


def test_put_away_and_back(as_owner: Browser) -> None:
    client = make.client()
    address = reverse("jobs:client-archive", args=[client.pk])
    assert says(as_owner.post(address, follow=True), "is put away", "Take out again")
    assert not says(as_owner.get(reverse("jobs:clients")), client.name)
    assert says(as_owner.get(reverse("jobs:clients") + "?archived"), client.name)
    as_owner.post(address, {"undo": "yes"})
    client.refresh_from_db()
    assert client.archived_at is None


def test_put_away_twice_is_written_down_once(as_owner: Browser) -> None:
    address = reverse("jobs:client-archive", args=[make.client().pk])
    for _ in range(2):
        as_owner.post(address)
    assert HistoryEntry.objects.filter(action="put away").count() == 1


@pytest.mark.parametrize("name", ["client", "client-edit"])
def test_an_unknown_client_is_not_there(as_owner: Browser, name: str) -> None:
    assert as_owner.get(reverse(f"jobs:{name}", args=[999])).status_code == 404


def test_archiving_is_no_link(as_owner: Browser) -> None:
    assert as_owner.get(reverse("jobs:client-archive", args=[make.client().pk])).status_code == 405


def test_a_maker_may_look_but_not_edit(as_maker: Browser) -> None:
    client = make.client(tax_number="GB123")
    answer = as_maker.get(client.get_absolute_url())
    assert not says(answer, "GB123")
    assert as_maker.get(reverse("jobs:client-edit", args=[client.pk])).status_code == 403
