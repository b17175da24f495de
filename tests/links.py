"""Which pages do links lead to?"""

from __future__ import annotations

import html
import re
from collections import Counter
from dataclasses import dataclass

from django.test import Client as Browser
from django.urls import resolve

LINK = re.compile(r'href="(/[^"#]*)"')
KEPT_APART = ("/static/", "/log-out/")


@dataclass(frozen=True)
class Reached:
    """An address, what it answered, and whether that was a page (and not a paper or a file)."""

    address: str
    status: int
    is_page: bool


def pages_reached(browser: Browser, start: str = "/", *, most_of_a_kind: int) -> list[Reached]:
    """Where links lead from a page on; only so many of each kind, for weeks lead to weeks without end."""
    found, of_kind, waiting = dict[str, Reached](), Counter[str](), [start]
    while waiting:
        address = waiting.pop()
        path = address.partition("?")[0]
        if address in found or path.startswith(KEPT_APART):
            continue
        kind = resolve(path).view_name
        of_kind[kind] += 1
        if of_kind[kind] > most_of_a_kind:
            continue
        answer = browser.get(address)
        is_page = answer.headers.get("Content-Type", "").startswith("text/html") and not answer.streaming
        found[address] = Reached(address, answer.status_code, is_page)
        if is_page:
            waiting += [html.unescape(link) for link in LINK.findall(answer.text)]
    return list(found.values())
