"""A real browser against a live server: pages of somebody logged in, at the width of a desk or of a phone."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client as Session
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

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
expect.set_options(timeout=20_000)  # as long as a page may take below
DESK = {"width": 1280, "height": 900}
PHONE = {"width": 390, "height": 844}
SMALL_PHONE = {"width": 360, "height": 740}
PICTURES = os.environ.get("KERFBOOK_PICTURES")
WIDEST = """() => [...document.querySelectorAll("main *")]
    .filter(one => one.getBoundingClientRect().right > window.innerWidth + 1)
    .slice(0, 3).map(one => one.outerHTML.slice(0, 120))"""

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
def amiss() -> Callable[[Page], list[str]]:
    """What is wrong with a page as it stands, by an accessibility checker or because it runs off its side; an
    empty list is what is wanted.
    """

    def found_on(page: Page) -> list[str]:
        return [*axe_finds(page), *off_the_page(page)]

    return found_on


def axe_finds(page: Page) -> list[str]:
    """What the accessibility checker objects to."""
    options = {"resultTypes": ["violations"]}  # what is well need not be told, which takes its time
    found = Axe().run(page, options=options).response["violations"]
    return [f"{one['id']}: {node['html'][:120]}" for one in found for node in one["nodes"]]


def off_the_page(page: Page) -> list[str]:
    """That it runs off its side, and by what."""
    if page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"):
        return []
    return ["runs off the page", *page.evaluate(WIDEST)]


def keep_picture(page: Page, name: str) -> None:
    """With KERFBOOK_PICTURES=folder a picture of the whole page is kept there, to be looked at."""
    if PICTURES and page.viewport_size:
        page.screenshot(path=Path(PICTURES) / f"{name}-{page.viewport_size['width']}.png", full_page=True)
