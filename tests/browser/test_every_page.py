"""Every page of the demo that links lead to, in a real browser: nothing amiss, nothing off the page.

With KERFBOOK_PICTURES=folder a picture of each is kept there, to be looked at.
"""

from __future__ import annotations

from datetime import date

import pytest
from django.test import Client as Browser

from jobs.models import Person
from quotes.demo.load import load_demo
from quotes.demo.workshop import OWNER_EMAIL
from tests.browser.conftest import DESK, PHONE, keep_picture, off_the_page
from tests.links import pages_reached

pytestmark = pytest.mark.browser


def test_nothing_is_amiss_on_any_page(live_server, open_page, amiss):
    load_demo(date(2026, 11, 25))
    owner = Person.objects.get(email=OWNER_EMAIL)
    page = open_page(owner, size=DESK)
    found = {}
    for address in addresses_of(owner):
        page.set_viewport_size(DESK)
        page.goto(address)
        wrong = amiss(page)
        keep_picture(page, name_of(address))
        page.set_viewport_size(PHONE)
        wrong += off_the_page(page)
        keep_picture(page, name_of(address))
        if wrong:
            found[address] = wrong
    assert found == {}


def addresses_of(person):
    """The pages that links lead to from the first, one of a kind: no papers, no files."""
    browser = Browser()
    browser.force_login(person)
    return [one.address for one in pages_reached(browser, most_of_a_kind=1) if one.is_page]


def name_of(address):
    return address.strip("/").replace("/", "_").replace("?", "-")[:80] or "first"
