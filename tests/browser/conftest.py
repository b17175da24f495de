"""A real browser against a live server: pages of somebody logged in, at the width of a desk or of a phone."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client as Session
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from jobs.models import Person

# The browser's driver keeps an event loop in this thread; the tests' own use of the database is not async.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
DESK = {"width": 1280, "height": 900}
PHONE = {"width": 390, "height": 844}
SMALL_PHONE = {"width": 360, "height": 740}

OpenPage = Callable[..., Page]


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def open_page(chromium: Browser, live_server: Any) -> Iterator[OpenPage]:
    """`open_page(person, size=PHONE, dark=True)`: an empty page of a browser of that person's own.

    Addresses may be relative (`page.goto("/bench/")`). A script error on any page fails the test.
    """
    contexts: list[BrowserContext] = []
    errors: list[str] = []

    def opened(person: Person | None = None, *, size: dict[str, int] = DESK, **options: Any) -> Page:
        scheme = "dark" if options.pop("dark", False) else "light"
        context = chromium.new_context(
            base_url=live_server.url, viewport=size, color_scheme=scheme, locale="en-GB", **options
        )
        contexts.append(context)
        if person is not None:
            context.add_cookies([session_cookie(person, live_server.url)])
        page = context.new_page()
        page.set_default_timeout(20000)
        page.on("pageerror", lambda error: errors.append(str(error)))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert errors == []


def session_cookie(person: Person, url: str) -> Any:
    session = Session()
    session.force_login(person)
    value = session.cookies[settings.SESSION_COOKIE_NAME].value
    return {"name": settings.SESSION_COOKIE_NAME, "value": value, "url": url}


@pytest.fixture
def axe() -> Callable[[Page], list[str]]:
    """What an accessibility checker finds amiss on a page; an empty list is what is wanted."""

    def amiss(page: Page) -> list[str]:
        options = {"resultTypes": ["violations"]}  # what is well need not be told, which takes its time
        found = Axe().run(page, options=options).response["violations"]
        return [f"{one['id']}: {node['html'][:120]}" for one in found for node in one["nodes"]]

    return amiss
