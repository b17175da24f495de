"""What every test may ask for: a workshop that is set up, three standing people, a browser of each."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from hypothesis import settings

from jobs.models import Person, Workshop
from tests import make


@pytest.fixture
def workshop(db: None) -> Workshop:
    return make.workshop()


@pytest.fixture
def owner(workshop: Workshop) -> Person:
    return make.person("Olive Owner", role="owner")


@pytest.fixture
def maker(workshop: Workshop) -> Person:
    return make.person("Miles Maker", role="maker")


@pytest.fixture
def bookkeeper(workshop: Workshop) -> Person:
    return make.person("Bea Bookkeeper", role="bookkeeper")


def logged_in(person: Person) -> Browser:
    browser = Browser()
    browser.force_login(person)
    return browser


@pytest.fixture
def as_owner(owner: Person) -> Browser:
    return logged_in(owner)


@pytest.fixture
def as_maker(maker: Person) -> Browser:
    return logged_in(maker)


@pytest.fixture
def as_bookkeeper(bookkeeper: Person) -> Browser:
    return logged_in(bookkeeper)


@pytest.fixture
def as_stranger(workshop: Workshop) -> Browser:
    return Browser()


settings.register_profile("kerfbook", deadline=None)  # a busy machine is no failure
settings.load_profile("kerfbook")
