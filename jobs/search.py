"""Where is it? One box over all that the rooms know.

Each room registers its sources when the program starts (`AppConfig.ready`), so that this room need not know
the others.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from jobs.models import Person

MOST_OF_A_KIND = 12


@dataclass(frozen=True)
class Found:
    """One thing found: its name, where it is, and a few words that tell it from others."""

    title: str
    href: str
    about: str = ""


@dataclass(frozen=True)
class Source:
    """Where to look. `look` gets the words and who asks, runs one query, returns at most `MOST_OF_A_KIND`."""

    heading: str
    order: int
    look: Callable[[str, Person], Sequence[Found]]


@dataclass(frozen=True)
class Group:
    """What one source found."""

    heading: str
    found: Sequence[Found]


_sources: dict[str, Source] = {}


def register(source: Source) -> None:
    """From now on the box looks there too. A second source of the same heading replaces the first."""
    _sources[source.heading] = source


def find(words: str, person: Person) -> list[Group]:
    """All that answers to the words, by kind; kinds that found nothing are left out."""
    words = " ".join(words.split())
    if not words:
        return []
    by_order = sorted(_sources.values(), key=lambda source: source.order)
    groups = [Group(source.heading, source.look(words, person)) for source in by_order]
    return [group for group in groups if group.found]
