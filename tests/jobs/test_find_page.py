"""One box over jobs and clients; other rooms add theirs."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests import make
from tests.checks import says

ADDRESS = "/find/"


def headings(browser: Browser, words: str) -> list[str]:
    return [group.heading for group in browser.get(ADDRESS, {"q": words}).context["groups"]]


@pytest.mark.parametrize("words", ["alder", "ALDER", "boats", " alder "])
def test_a_client_is_found_with_their_jobs(as_maker: Browser, words: str) -> None:
    make.job(client=make.client(name="Alder Boats"))
    assert headings(as_maker, words)[:2] == ["Jobs", "Clients"]


@pytest.mark.parametrize("words", ["ZOË", "zoe", "Eclair Zoë", "ÉCLAIR zoe@example"])
def test_a_client_is_found_word_by_word_without_accents(as_maker: Browser, words: str) -> None:
    make.client(name="Zoë Éclair", email="zoe@example.org")
    make.client(name="Zoe Ash", email="ash@example.org", archived_at=make.NOW)
    found = as_maker.get(ADDRESS, {"q": words}).context["groups"][0].found
    assert found[0].title == "Zoë Éclair"
    assert len(found) == (2 if words in ("ZOË", "zoe") else 1)


@pytest.mark.parametrize("words", ["eclair öfchen", "ÖFCHEN"])
def test_quotes_and_materials_are_found_word_by_word_without_accents(as_owner: Browser, words: str) -> None:
    client = make.client(name="Zoë Éclair")
    make.quote(title="Wand am Öfchen", job=make.phase(job=make.job(client=client)).job)
    make.material(name="Éclair-Brett", species="Öfchenholz")
    stood = make.stock_item(material=make.material(name="Éclair"), place="Regal am Öfchen")
    assert headings(as_owner, words) == ["Quotes", "Materials"]
    assert says(as_owner.get(reverse("materials:stock"), {"words": words}), stood.label)


@pytest.mark.parametrize("words", ["26-777", "galley", "narrow"])
def test_a_job_is_found_by_number_title_and_what_it_is(as_maker: Browser, words: str) -> None:
    make.job(number="26-777", title="Galley", fitted_out="Narrowboat")
    assert headings(as_maker, words) == ["Jobs"]


def test_the_words_stand_in_the_box(as_maker: Browser) -> None:
    assert says(as_maker.get(ADDRESS, {"q": "larch <b>"}), 'value="larch &lt;b&gt;"')


def test_nothing_found_says_so(as_maker: Browser) -> None:
    assert says(as_maker.get(ADDRESS, {"q": "zzz"}), "Nothing answers to that.")


@pytest.mark.parametrize("words", ["", "   "])
def test_an_empty_box_says_what_to_type(as_maker: Browser, words: str) -> None:
    assert says(as_maker.get(ADDRESS, {"q": words}), "Type a few letters in the box")
