"""Which browser is it, in words that its owner knows it by?"""

from __future__ import annotations

# The first word found names it: browsers name the older ones they behave like after themselves.
BROWSERS = (
    ("Edg", "Edge"),
    ("OPR", "Opera"),
    ("SamsungBrowser", "Samsung Internet"),
    ("Firefox", "Firefox"),
    ("FxiOS", "Firefox"),
    ("CriOS", "Chrome"),
    ("Chrome", "Chrome"),
    ("Safari", "Safari"),
)
MACHINES = (
    ("iPhone", "an iPhone"),
    ("iPad", "an iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Macintosh", "a Mac"),
    ("CrOS", "ChromeOS"),
    ("Linux", "Linux"),
)


def browser_words(user_agent: str) -> str:
    """Firefox on Windows; what is not known is told as it says itself, in short."""
    browser = _first(BROWSERS, user_agent)
    machine = _first(MACHINES, user_agent)
    if browser and machine:
        return f"{browser} on {machine}"
    return browser or user_agent.strip()[:40] or "not said"


def _first(known: tuple[tuple[str, str], ...], text: str) -> str:
    return next((words for mark, words in known if mark in text), "")
