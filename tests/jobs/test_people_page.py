"""People: added, changed, let out; their rates by day; a link to choose a password."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Person, PersonRate
from tests import make
from tests.checks import queries_of, says

TYPED = {"name": "Ash", "email": "Ash@Example.org", "role": "maker", "hours_a_week": "32"}


def test_adding_gives_nobody_a_password(as_owner: Browser) -> None:
    as_owner.post(reverse("jobs:person-add"), TYPED)
    person = Person.objects.get(name="Ash")
    assert (person.email, person.hours_a_week) == ("ash@example.org", 32)
    assert not person.has_usable_password()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"email": "taken@example.org"}, "Somebody has this e-mail already."),
        ({"email": "TAKEN@example.org"}, "Somebody has this e-mail already."),
        ({"email": "ash"}, "Enter a valid email address."),
        ({"role": "boss"}, "boss is not one of the available choices"),
        ({"hours_a_week": "169"}, "A week has 168 hours."),
        ({"name": ""}, "This field is required."),
    ],
)
def test_nonsense_is_said_beside_the_field(as_owner: Browser, typed: dict[str, str], said: str) -> None:
    Person.objects.create_person(email="taken@example.org", name="Taken", role="maker")
    answer = as_owner.post(reverse("jobs:person-add"), {**TYPED, **typed})
    assert answer.status_code == 422
    assert says(answer, said)
    assert not Person.objects.filter(name="Ash").exists()


def test_the_link_lets_them_choose_a_password(as_owner: Browser) -> None:
    person = make.person("Ash")
    answer = as_owner.post(reverse("jobs:person-link", args=[person.pk]))
    link = re.search(r"<code class=\"link\">(.*?)</code>", answer.content.decode())
    assert link
    assert Browser().get(link[1]).status_code == 200


def test_whoever_may_log_in_no_more_is_out_at_once(as_owner: Browser) -> None:
    person = make.person("Ash")
    browser = Browser()
    browser.force_login(person)
    as_owner.post(reverse("jobs:person-edit", args=[person.pk]), {**TYPED, "version": "1"})
    assert browser.get(reverse("jobs:list")).status_code == 302


def test_whoever_may_log_in_no_more_may_have_left_a_timer(as_owner: Browser) -> None:
    person = make.person("Ash")
    address, typed = reverse("jobs:person-edit", args=[person.pk]), {**TYPED, "version": "1"}
    words = "A timer of theirs still runs, on Bunk since 09:00 on 2 Jun. Say on the time sheet"
    phase = make.phase(job=make.job(state="bench"), title="Bunk")
    timer = make.hours(person=person, phase=phase, seconds=None, started_at="2026-06-02T08:00Z")
    assert says(as_owner.post(address, typed, follow=True), words)
    timer.delete()
    assert not says(as_owner.post(address, {**typed, "version": "2"}, follow=True), words)


@pytest.mark.parametrize("typed", [{"role": "maker", "is_active": "on"}, {"role": "owner"}])
@pytest.mark.parametrize("others", [[], ["invited"], ["gone"]])
def test_the_last_owner_who_can_log_in_stays(
    as_owner: Browser, owner: Person, typed: dict[str, str], others: list[str]
) -> None:
    for other in others:
        second = make.person(role="owner")
        if other == "gone":
            second.set_password("hollow plane iron")
            second.is_active = False
            second.save()
    address = reverse("jobs:person-edit", args=[owner.pk])
    answer = as_owner.post(address, {"name": owner.name, "email": owner.email, "hours_a_week": "40", **typed})
    assert answer.status_code == 422
    assert says(answer, "The workshop needs an owner who may log in.")
    owner.refresh_from_db()
    assert owner.is_owner
    assert owner.is_active


def test_one_of_two_owners_may_step_back(as_owner: Browser, owner: Person) -> None:
    second = make.person(role="owner")
    second.set_password("hollow plane iron")
    second.save()
    typed = {**TYPED, "role": "bookkeeper", "is_active": "on", "version": "1"}
    as_owner.post(reverse("jobs:person-edit", args=[owner.pk]), typed)
    owner.refresh_from_db()
    assert owner.role == "bookkeeper"


RATE = {"from_date": "2026-07-01", "cost_rate": "24.50", "charge_rate": "48"}


def test_a_rate_holds_from_its_day(as_owner: Browser) -> None:
    person = make.person()
    as_owner.post(reverse("jobs:person-rate-add", args=[person.pk]), RATE)
    rate = PersonRate.objects.get(person=person, from_date=date(2026, 7, 1))
    assert rate.cost_rate == Decimal("24.50")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"cost_rate": "-1"}, "Not less than nothing."),
        ({"from_date": "2020-01-01"}, "There is a rate from this day already."),
    ],
)
def test_a_wrong_rate_is_said_beside_the_field(as_owner: Browser, typed: dict[str, str], said: str) -> None:
    person = make.person()
    answer = as_owner.post(reverse("jobs:person-rate-add", args=[person.pk]), {**RATE, **typed})
    assert answer.status_code == 422
    assert says(answer, said)


def test_hours_booked_keep_the_rate_of_their_day(as_owner: Browser) -> None:
    entry = make.hours(cost_rate=Decimal(20))
    as_owner.post(
        reverse("jobs:person-rate-add", args=[entry.person.pk]), {**RATE, "from_date": "2020-02-01"}
    )
    entry.refresh_from_db()
    assert entry.cost_rate == 20


@pytest.mark.parametrize("count", [1, 3])
def test_queries(as_owner: Browser, count: int) -> None:
    person = make.person(rate=None)
    for at in range(count):
        PersonRate.objects.create(
            person=person, from_date=date(2026, 1, 1 + at), cost_rate=Decimal(20), charge_rate=Decimal(40)
        )
    assert queries_of(as_owner, reverse("jobs:person", args=[person.pk])) == 5


def test_the_link_is_made_by_a_button(as_owner: Browser) -> None:
    assert as_owner.get(reverse("jobs:person-link", args=[make.person().pk])).status_code == 405
