"""A browser is told in words its owner knows it by. The lines are the browsers' own, as they send them."""

from __future__ import annotations

import pytest

from jobs.browsers import browser_words

MOZILLA = "Mozilla/5.0"
WEBKIT = "AppleWebKit/537.36 (KHTML, like Gecko)"


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (f"{MOZILLA} (X11; Linux x86_64) {WEBKIT} Chrome/142.0.0.0 Safari/537.36", "Chrome on Linux"),
        (
            f"{MOZILLA} (Windows NT 10.0; Win64; x64) {WEBKIT} Chrome/142 Edg/142",
            "Edge on Windows",
        ),
        (f"{MOZILLA} (Windows NT 10.0; rv:145.0) Gecko/20100101 Firefox/145.0", "Firefox on Windows"),
        (
            f"{MOZILLA} (iPhone; CPU iPhone OS 18_0) {WEBKIT} Safari/604.1",
            "Safari on an iPhone",
        ),
        (f"{MOZILLA} (Linux; Android 15) {WEBKIT} Chrome/142 Mobile Safari/537.36", "Chrome on Android"),
        (f"{MOZILLA} (Macintosh; Intel Mac OS X 10_15_7) {WEBKIT} Version/18 Safari/605", "Safari on a Mac"),
        ("curl/8.5.0", "curl/8.5.0"),
        ("", "not said"),
        ("x" * 300, "x" * 40),
    ],
)
def test_it_is_told_in_words(said: str, words: str) -> None:
    assert browser_words(said) == words
