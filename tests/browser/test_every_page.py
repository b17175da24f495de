"""Every page of the demo that links lead to, in a real browser: nothing amiss, nothing off the page.

With KERFBOOK_PICTURES=folder a picture of each is kept there, to be looked at.
"""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest
from django.test import Client as Browser

from jobs.models import Person
from quotes.demo.load import load_demo
from quotes.demo.workshop import OWNER_EMAIL
from tests.browser.conftest import DESK, PHONE
from tests.links import pages_reached

pytestmark = pytest.mark.browser
PICTURES = os.environ.get("KERFBOOK_PICTURES")
OFF_THE_PAGE = """() => {
    const wide = window.innerWidth, off = one => one.getBoundingClientRect().right > wide + 1
    return document.documentElement.scrollWidth <= wide ? [] : [...document.querySelectorAll("main *")]
        .filter(off).slice(0, 3).map(one => "off the page: " + one.outerHTML.slice(0, 120))
}"""


def test_nothing_is_amiss_on_any_page(live_server, open_page, axe):
    load_demo(date(2026, 11, 25))
    owner = Person.objects.get(email=OWNER_EMAIL)
    page = open_page(owner, size=DESK)
    found = {}
    for address in addresses_of(owner):
        page.set_viewport_size(DESK)
        page.goto(address)
        amiss = axe(page) + page.evaluate(OFF_THE_PAGE)
        keep_picture(page, address, DESK)
        page.set_viewport_size(PHONE)
        amiss += page.evaluate(OFF_THE_PAGE)
        keep_picture(page, address, PHONE)
        if amiss:
            found[address] = amiss
    assert found == {}


def addresses_of(person):
    """The pages that links lead to from the first, one of a kind: no papers, no files."""
    browser = Browser()
    browser.force_login(person)
    return [one.address for one in pages_reached(browser, most_of_a_kind=1) if one.is_page]


def keep_picture(page, address, size):
    if PICTURES:
        name = address.strip("/").replace("/", "_").replace("?", "-")[:80] or "first"
        page.screenshot(path=Path(PICTURES) / f"{name}-{size['width']}.png", full_page=True)
