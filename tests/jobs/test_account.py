"""One's own account: password, links, second factor, and the browsers that are in."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from io import StringIO

import pyotp
import pytest
from django.core.exceptions import ValidationError
from django.core.management import CommandError, call_command
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import AccountLink, Person, SecondFactor, SignIn
from jobs.services.accounts import links, second_factor
from tests import make

pytestmark = pytest.mark.django_db
PASSWORD, BETTER = "planed-and-square-7", "three oak boards, one ash"
NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


@pytest.fixture
def person(owner: Person) -> Person:
    owner.set_password(PASSWORD)
    owner.save()
    return owner


@pytest.fixture
def browser(person: Person) -> Browser:
    browser = Browser()
    browser.post(reverse("login"), {"email": person.email, "password": PASSWORD})
    return browser


def test_a_link_sets_a_password_once(person: Person) -> None:
    token = links.make_link(person=person, by=None, now=NOW)
    assert len(token) >= 32
    assert not AccountLink.objects.filter(token_sha256=token).exists()
    links.choose_password(token=token, password=BETTER, now=NOW)
    person.refresh_from_db()
    assert person.check_password(BETTER)
    with pytest.raises(links.LinkUsedUpError):
        links.choose_password(token=token, password=BETTER, now=NOW)


def test_a_link_runs_out_and_a_newer_one_replaces_it(person: Person) -> None:
    first = links.make_link(person=person, by=None, now=NOW)
    second = links.make_link(person=person, by=None, now=NOW)
    with pytest.raises(links.LinkUsedUpError):
        links.person_of_link(first, NOW)
    with pytest.raises(links.LinkUsedUpError):
        links.person_of_link(second, NOW + links.VALID)
    assert links.person_of_link(second, NOW + links.VALID - timedelta(seconds=1)) == person


def test_a_weak_password_leaves_the_link_working(person: Person) -> None:
    token = links.make_link(person=person, by=None, now=NOW)
    with pytest.raises(ValidationError):
        links.choose_password(token=token, password="password1234", now=NOW)
    assert links.person_of_link(token, NOW) == person


def test_the_link_page(person: Person, as_stranger: Browser) -> None:
    said = StringIO()
    call_command("password_link", person.email, stdout=said)
    address = said.getvalue().strip().removeprefix("http://localhost:8000")
    page = as_stranger.get(address)
    assert page.headers["Referrer-Policy"] == "no-referrer"
    assert "too short" in as_stranger.post(address, {"password": "short"}).text
    assert as_stranger.post(address, {"password": BETTER}).status_code == 302
    assert as_stranger.get(address).status_code == 410


def test_the_command_refuses_an_unknown_email(workshop: object) -> None:
    with pytest.raises(CommandError, match="Nobody"):
        call_command("password_link", "nobody@example.org")


def test_a_changed_password_puts_other_browsers_out(person: Person, browser: Browser) -> None:
    other = Browser()
    other.post(reverse("login"), {"email": person.email, "password": PASSWORD})
    answer = browser.post(reverse("jobs:change-password"), {"present": PASSWORD, "password": BETTER})
    assert answer.status_code == 302
    assert browser.get(reverse("jobs:account")).status_code == 200
    assert other.get(reverse("jobs:account")).status_code == 302


def test_the_present_password_must_be_known(browser: Browser, person: Person) -> None:
    answer = browser.post(reverse("jobs:change-password"), {"present": "guess", "password": BETTER})
    assert "not your present password" in answer.text
    person.refresh_from_db()
    assert person.check_password(PASSWORD)


def test_a_browser_can_be_logged_out_from_another(person: Person, browser: Browser) -> None:
    other = Browser()
    other.post(reverse("login"), {"email": person.email, "password": PASSWORD})
    newest = SignIn.objects.filter(person=person).order_by("-at")[0]
    browser.post(reverse("jobs:end-log-in", args=[newest.pk]))
    assert other.get("/").status_code == 302
    assert browser.get("/").status_code == 200
    assert browser.post(reverse("jobs:end-log-in", args=[newest.pk])).status_code == 404


def test_all_others_can_be_logged_out(person: Person, browser: Browser) -> None:
    other = Browser()
    other.post(reverse("login"), {"email": person.email, "password": PASSWORD})
    browser.post(reverse("jobs:end-other-log-ins"))
    assert (browser.get("/").status_code, other.get("/").status_code) == (200, 302)


def test_a_second_factor_counts_once_a_code_was_right(person: Person, browser: Browser) -> None:
    page = browser.get(reverse("jobs:second-factor")).text
    secret = SecondFactor.objects.get(person=person).secret
    assert secret in page
    assert not second_factor.is_asked_of(person)
    assert "not the present code" in browser.post(reverse("jobs:second-factor"), {"code": "1"}).text
    answer = browser.post(reverse("jobs:second-factor"), {"code": pyotp.TOTP(secret).now()})
    assert answer.text.count("<li><code>") == second_factor.SPARE_CODES
    assert second_factor.is_asked_of(person)
    assert secret not in browser.get(reverse("jobs:second-factor"), follow=True).text


def test_turning_it_off_needs_the_password(person: Person, browser: Browser) -> None:
    SecondFactor.objects.create(person=person, secret=pyotp.random_base32(), confirmed_at=NOW)
    browser.post(reverse("jobs:second-factor-off"), {"password": "guess"})
    assert second_factor.is_asked_of(person)
    browser.post(reverse("jobs:second-factor-off"), {"password": PASSWORD})
    assert not second_factor.is_asked_of(person)


def test_the_account_page_asks_for_the_same_however_many_browsers(
    person: Person, browser: Browser, django_assert_num_queries: object
) -> None:
    for count in (1, 3):
        for _ in range(count - 1):
            make.sign_in(person=person)
        with django_assert_num_queries(5):
            browser.get(reverse("jobs:account"))
