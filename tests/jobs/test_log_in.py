"""Getting in: once, with a code where one is asked for, and not by guessing."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pyotp
import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import LogInAttempt, Person, SignIn
from jobs.services.accounts import second_factor, throttle
from tests import make

pytestmark = pytest.mark.django_db
PASSWORD = "planed-and-square-7"
NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


@pytest.fixture
def person(owner: Person) -> Person:
    owner.set_password(PASSWORD)
    owner.save()
    return owner


def try_in(browser: Browser, person: Person, password: str = PASSWORD, **more: str) -> object:
    return browser.post(reverse("login"), {"email": person.email, "password": password, **more})


def test_the_right_password_opens_the_jobs(person: Person, as_stranger: Browser) -> None:
    answer = try_in(as_stranger, person)
    assert answer.headers["Location"] == reverse("jobs:list")
    assert SignIn.objects.get().person == person
    assert LogInAttempt.objects.get().succeeded


def test_capitals_in_the_email_do_not_matter(person: Person, as_stranger: Browser) -> None:
    answer = as_stranger.post(reverse("login"), {"email": person.email.upper(), "password": PASSWORD})
    assert answer.status_code == 302


def test_the_page_asked_for_comes_next_but_no_foreign_one(person: Person, as_stranger: Browser) -> None:
    assert try_in(as_stranger, person, next="/clients/").headers["Location"] == "/clients/"
    other = Browser()
    assert try_in(other, person, next="https://evil.example/").headers["Location"] == reverse("jobs:list")


@pytest.mark.parametrize("email", ["nobody@example.org", None])
def test_one_message_for_every_reason(person: Person, as_stranger: Browser, email: str | None) -> None:
    answer = as_stranger.post(reverse("login"), {"email": email or person.email, "password": "wrong"})
    assert "do not go together" in answer.text
    assert (email or person.email) in answer.text
    assert not LogInAttempt.objects.get().succeeded


def test_somebody_deactivated_stays_out(person: Person, as_stranger: Browser) -> None:
    person.is_active = False
    person.save()
    assert "do not go together" in try_in(as_stranger, person).text


def test_guessing_is_made_to_wait_even_with_the_right_password(person: Person, as_stranger: Browser) -> None:
    for _ in range(throttle.FAILURES_OF_ACCOUNT):
        try_in(as_stranger, person, "wrong")
    answer = try_in(as_stranger, person)
    assert answer.status_code == 429
    assert "minute" in answer.text


def test_a_known_browser_still_gets_in_while_strangers_guess(person: Person, as_stranger: Browser) -> None:
    own = Browser(REMOTE_ADDR="192.0.2.7")
    try_in(own, person)
    own.post(reverse("logout"))
    for _ in range(throttle.FAILURES_OF_ACCOUNT):
        try_in(as_stranger, person, "wrong")
    assert try_in(as_stranger, person).status_code == 429
    assert try_in(own, person).status_code == 302


def test_an_address_that_tries_many_names_is_made_to_wait(person: Person, as_stranger: Browser) -> None:
    for at in range(throttle.FAILURES_OF_ADDRESS):
        throttle.note_attempt(
            email=f"{at}@example.org", address="192.0.2.9", known_device=False, succeeded=False, now=NOW
        )
    asked = {"email": "new@example.org", "known_device": False}
    soon, later = NOW + timedelta(seconds=1), NOW + throttle.WAIT
    assert throttle.wait_before_next_try(address="192.0.2.9", now=soon, **asked)
    assert throttle.wait_before_next_try(address="192.0.2.8", now=soon, **asked) is None
    assert throttle.wait_before_next_try(address="192.0.2.9", now=later, **asked) is None


def test_the_code_is_asked_for_and_a_spare_one_works_once(person: Person, as_stranger: Browser) -> None:
    factor = second_factor.begin(person)
    spare = second_factor.confirm(person=person, code=pyotp.TOTP(factor.secret).at(NOW), now=NOW)[0]
    assert try_in(as_stranger, person).headers["Location"] == reverse("log-in-code")
    assert as_stranger.get("/").status_code == 302
    wrong = as_stranger.post(reverse("log-in-code"), {"code": "000000"})
    assert "not the present code" in wrong.text
    assert as_stranger.post(reverse("log-in-code"), {"code": spare}).headers["Location"] == "/"
    assert as_stranger.get("/").status_code == 200
    again = Browser()
    try_in(again, person)
    assert "not the present code" in again.post(reverse("log-in-code"), {"code": spare}).text


def test_the_code_page_alone_lets_nobody_in(as_stranger: Browser, workshop: object) -> None:
    assert as_stranger.post(reverse("log-in-code"), {"code": "123456"}).headers["Location"] == reverse(
        "login"
    )


def test_logging_out_ends_the_session_on_the_server(person: Person, as_stranger: Browser) -> None:
    try_in(as_stranger, person)
    kept = as_stranger.cookies["kerfbook"].value
    as_stranger.post(reverse("logout"))
    assert not SignIn.objects.exists()
    thief = Browser()
    thief.cookies["kerfbook"] = kept
    assert thief.get("/").status_code == 302


def test_a_new_session_begins_at_log_in(person: Person, as_stranger: Browser) -> None:
    factor = second_factor.begin(person)
    spare = second_factor.confirm(person=person, code=pyotp.TOTP(factor.secret).at(NOW), now=NOW)[0]
    try_in(as_stranger, person)
    before = as_stranger.cookies["kerfbook"].value
    as_stranger.post(reverse("log-in-code"), {"code": spare})
    assert as_stranger.cookies["kerfbook"].value != before


def test_the_address_behind_a_proxy_is_the_browsers(settings: object, person: Person) -> None:
    browser = Browser(REMOTE_ADDR="127.0.0.1")
    forged = {"X-Forwarded-For": "6.6.6.6, 192.0.2.44"}
    browser.post(reverse("login"), {"email": person.email, "password": "wrong"}, headers=forged)
    assert LogInAttempt.objects.last().address == "127.0.0.1"
    settings.PROXIES_IN_FRONT = 1
    browser.post(reverse("login"), {"email": person.email, "password": "wrong"}, headers=forged)
    assert LogInAttempt.objects.last().address == "192.0.2.44"


def test_old_tries_are_dropped(db: None) -> None:
    asked = {"email": "a@example.org", "address": None, "known_device": False, "succeeded": False}
    throttle.note_attempt(now=NOW - throttle.KEPT - timedelta(days=1), **asked)
    throttle.note_attempt(now=NOW, **asked)
    assert LogInAttempt.objects.count() == 1


def test_the_maker_of_sign_ins_is_plain(db: None) -> None:
    assert make.sign_in().person.name == "Pat Person"
