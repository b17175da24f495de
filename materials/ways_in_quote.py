"""What does each way to make an item cost the client, and how does it get into a quote?

Prices and quotes are the business of a higher room. It registers the answer when the program starts
(`AppConfig.ready`), so that this room need not know it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.models import Person
from materials.models import TakeoffItem
from materials.queries.ways import WayRow


@dataclass(frozen=True)
class Act:
    """A button: what it says and where it posts to."""

    label: str
    href: str


@dataclass(frozen=True)
class WayInQuote:
    """The price of a way without tax, how much that is over the way taken, and a button for it alone."""

    price: Decimal | None = None
    over: Decimal | None = None
    act: Act | None = None

    @property
    def under(self) -> Decimal | None:
        """How much less it is than the way taken."""
        return None if self.over is None else -self.over


@dataclass(frozen=True)
class WaysInQuote:
    """All ways of an item by number, and a button for them all."""

    ways: Mapping[int, WayInQuote] = field(default_factory=dict)
    act: Act | None = None


Answer = Callable[[TakeoffItem, Sequence[WayRow], Person], WaysInQuote]
NOTHING = WaysInQuote()
_answers: list[Answer] = []


def register(answer: Answer) -> None:
    """From now on the ways are priced by it; a second one replaces the first."""
    _answers[:] = [answer]


def ways_in_quote(item: TakeoffItem, rows: Sequence[WayRow], person: Person) -> WaysInQuote:
    """The prices and buttons, for those who see prices."""
    if not (_answers and person.sees_prices):
        return NOTHING
    return _answers[0](item, rows, person)


def beside(rows: Sequence[WayRow], offered: WaysInQuote) -> list[tuple[WayRow, WayInQuote]]:
    """Each way with its price and button."""
    return [(row, offered.ways.get(row.number, WayInQuote())) for row in rows]
