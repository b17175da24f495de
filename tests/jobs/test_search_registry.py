"""The box asks every source, in order, and shows only kinds that found something."""

from __future__ import annotations

import pytest

from jobs import search
from jobs.models import Person
from jobs.search import Found, Source


@pytest.fixture(autouse=True)
def no_sources(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search, "_sources", {})


def source(heading: str, order: int, *titles: str) -> Source:
    return Source(heading, order, lambda words, person: [Found(f"{title} {words}", "/") for title in titles])


def test_groups_stand_in_order_and_empty_kinds_are_left_out() -> None:
    search.register(source("Boards", 2, "larch"))
    search.register(source("Jobs", 1, "hut", "galley"))
    search.register(source("Clients", 0))
    groups = search.find("bunk", Person())
    assert [group.heading for group in groups] == ["Jobs", "Boards"]
    assert [found.title for found in groups[0].found] == ["hut bunk", "galley bunk"]


def test_the_same_heading_again_replaces() -> None:
    search.register(source("Jobs", 1, "old"))
    search.register(source("Jobs", 1, "new"))
    assert [found.title for found in search.find("x", Person())[0].found] == ["new x"]


@pytest.mark.parametrize("words", ["", "   ", "\t"])
def test_no_words_find_nothing(words: str) -> None:
    search.register(source("Jobs", 1, "hut"))
    assert search.find(words, Person()) == []


def test_spaces_are_tidied() -> None:
    search.register(source("Jobs", 1, "hut"))
    assert search.find("  a   b ", Person())[0].found[0].title == "hut a b"
