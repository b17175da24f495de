"""Every address against every role."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.test import Client as Browser
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests.access_table import ROWS, Row, World

LETTERS = {"o": "as_owner", "m": "as_maker", "b": "as_bookkeeper"}


def addresses(resolver: URLResolver, space: str = "") -> Iterator[str]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from addresses(entry, f"{space}{entry.namespace}:" if entry.namespace else space)
        elif isinstance(entry, URLPattern):
            yield f"{space}{entry.name}"


def test_every_address_has_a_row_and_every_row_an_address() -> None:
    assert sorted(addresses(get_resolver())) == sorted(row.name for row in ROWS)


@pytest.mark.parametrize(
    "row", [row for row in ROWS if row.who not in {"own", "token"}], ids=lambda row: row.name
)
def test_roles(row: Row, request: pytest.FixtureRequest, as_stranger: Browser) -> None:
    browsers = {letter: request.getfixturevalue(name) for letter, name in LETTERS.items()}
    address = reverse(row.name, args=row.args(World()))
    for letter, browser in browsers.items():
        if row.once:
            address = reverse(row.name, args=row.args(World()))
        let_in = row.who == "*" or letter in row.who
        answers = [browser.get(address).status_code, browser.post(address).status_code]
        assert 404 not in answers, f"{address} is not there for {letter}"
        assert max(answers) < 500, f"{address} broke for {letter}"
        served = set(answers) - {405}
        assert (403 not in served) if let_in else served == {403}, f"{address} for {letter}: {answers}"


@pytest.mark.parametrize("row", [row for row in ROWS if row.who == "own"], ids=lambda row: row.name)
def test_what_is_somebody_elses_is_not_there(row: Row, as_owner: Browser) -> None:
    address = reverse(row.name, args=row.args(World()))
    assert {as_owner.get(address).status_code, as_owner.post(address).status_code} <= {404, 405}
    assert as_owner.post(address).status_code == 404


@pytest.mark.parametrize("row", [row for row in ROWS if row.who == "token"], ids=lambda row: row.name)
def test_a_log_in_is_no_token(row: Row, as_owner: Browser) -> None:
    address = reverse(row.name, args=row.args(World()))
    answers = {as_owner.get(address).status_code, as_owner.post(address).status_code}
    assert answers <= {401, 404, 405}
    assert answers != {405}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_strangers_are_sent_to_log_in(row: Row, as_stranger: Browser) -> None:
    address = reverse(row.name, args=row.args(World()))
    for method in (as_stranger.get, as_stranger.post):
        answer = method(address)
        sent_away = answer.status_code == 302 and answer.headers["Location"].startswith(reverse("login"))
        assert sent_away is (row.who not in {"*", "token"}) or row.name in {"login", "log-in-code", "logout"}
