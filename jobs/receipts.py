"""For which order is a receipt? The room that orders says which are open, and books in what came.

It registers when the program starts (`AppConfig.ready`), so that this room need not know it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from jobs.models import CostEntry, Person, Phase
from jobs.refusals import RefusedError


@dataclass(frozen=True)
class OpenOrder:
    """An order of which something is still to come."""

    number: str
    supplier: str
    job_id: int
    job: str


@dataclass(frozen=True)
class Buying:
    """What the room that orders can tell and do.

    `open_orders` and `suppliers` take one query each. `take_in` books in all that is still to come on the
    order the receipt names, with the receipt as its cost. `booked_in` names the order on which a receipt is
    the cost of what came, and `reversed` undoes that for the reason given. `url_name` takes the id of a
    receipt and is the owner's page to match it.
    """

    open_orders: Callable[[], Sequence[OpenOrder]]
    suppliers: Callable[[], Sequence[str]]
    take_in: Callable[[CostEntry, Person], None]
    booked_in: Callable[[CostEntry], str]
    reversed: Callable[[CostEntry, Person, str], None]
    url_name: str


_buying: list[Buying] = []


def register(buying: Buying) -> None:
    """From now on receipts are matched there."""
    _buying[:] = [buying]


def open_orders() -> Sequence[OpenOrder]:
    """The orders that a receipt can be for."""
    return _buying[0].open_orders() if _buying else ()


def suppliers() -> Sequence[str]:
    """Names to choose from where a supplier is typed."""
    return _buying[0].suppliers() if _buying else ()


def matching_url() -> str:
    """Where the owner matches a receipt; nothing where no room orders."""
    return _buying[0].url_name if _buying else ""


def find(number: str) -> OpenOrder | None:
    """The open order of that number."""
    return next((order for order in open_orders() if order.number == number), None) if number else None


def check(number: str, order: OpenOrder | None, phase: Phase) -> None:
    """Refuses a receipt for an order that is not open, or is another job's."""
    if order is None:
        raise RefusedError(f"Nothing is to come on order {number} any more. Log the receipt without it.")
    if order.job_id != phase.job_id:
        raise RefusedError(f"Order {number} is for {order.job}: choose a phase of that job.")


def take_in(entry: CostEntry, person: Person) -> None:
    """All that was to come on the receipt's order is here."""
    _buying[0].take_in(entry, person)


def booked_in(entry: CostEntry) -> str:
    """The order on which this receipt is the cost of what came; nothing for no such order."""
    return _buying[0].booked_in(entry) if _buying else ""


def reversed_here(entry: CostEntry, person: Person, reason: str) -> None:
    """What was booked in on this receipt is so no longer."""
    if _buying:
        _buying[0].reversed(entry, person, reason)
