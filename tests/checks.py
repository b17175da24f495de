"""What tests say of a page, where it reads better in one word."""

from __future__ import annotations

from typing import Any

from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext


def queries_of(browser: Browser, address: str) -> int:
    """How many queries a page takes; it must be found."""
    with CaptureQueriesContext(connection) as caught:
        answer = browser.get(address)
    assert answer.status_code == 200, f"{address}: {answer.status_code}"
    return len(caught)


def says(answer: Any, *words: str) -> bool:
    """Whether all the words stand on the page."""
    text = answer.content.decode()
    return all(word in text for word in words)
