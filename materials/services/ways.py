"""Keep two or three ways to make one thing: add one, change one, take one, drop one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from jobs.models import Person
from jobs.refusals import RefusedError
from materials.models import TakeoffItem
from materials.services.takeoff import Entered, change_item
from materials.takeoff.codec import from_json, to_json
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.ways import MOST_WAYS, Way, Ways


def ways_of(item: TakeoffItem) -> Ways:
    """The ways of an item; one that has no ways yet is its own only way."""
    if item.kind == "ways":
        return from_json(item.inputs, Ways)
    return Ways((Way(item.title, item.kind, item.inputs),))


def add_way(*, item: TakeoffItem, entered: Entered, version: int, person: Person) -> TakeoffItem:
    """The item has one more way to make it; the way taken stays taken. Refused beyond the most."""
    ways = ways_of(item)
    if len(ways.ways) >= MOST_WAYS:
        raise RefusedError(f"{MOST_WAYS} ways are the most that fit side by side: drop one first.")
    return _keep(item, replace(ways, ways=(*ways.ways, _way(entered))), version, person)


def change_way(
    *, item: TakeoffItem, number: int, entered: Entered, version: int, person: Person
) -> TakeoffItem:
    """That way is made as entered."""
    return _keep(item, _with(ways_of(item), number, lambda _: _way(entered)), version, person)


def take_way(*, item: TakeoffItem, number: int, version: int, person: Person) -> TakeoffItem:
    """That way is the one that is priced, cut and weighed."""
    ways = ways_of(item)
    _check(ways, number)
    return _keep(item, replace(ways, chosen=number), version, person)


def drop_way(*, item: TakeoffItem, number: int, version: int, person: Person) -> TakeoffItem:
    """That way is gone; the last one left is a plain item again. Refused for the way that is taken."""
    ways = ways_of(item)
    _check(ways, number)
    if number == ways.chosen:
        raise RefusedError("That way is the one taken: take another first.")
    left = tuple(way for at, way in enumerate(ways.ways) if at != number)
    chosen = ways.chosen - (number < ways.chosen)
    return _keep(item, Ways(left, chosen), version, person)


def _way(entered: Entered) -> Way:
    return Way(entered.title, entered.kind, entered.inputs)


def _check(ways: Ways, number: int) -> None:
    if not 0 <= number < len(ways.ways):
        raise MeasureAgain("There is no such way any more.")


def _with(ways: Ways, number: int, made: Callable[[Way], Way]) -> Ways:
    _check(ways, number)
    changed = (made(way) if at == number else way for at, way in enumerate(ways.ways))
    return replace(ways, ways=tuple(changed))


def _keep(item: TakeoffItem, ways: Ways, version: int, person: Person) -> TakeoffItem:
    if len(ways.ways) == 1:
        only = ways.ways[0]
        entered = Entered(only.kind, item.title, only.inputs)
    else:
        entered = Entered("ways", item.title, to_json(ways))
    return change_item(item=item, entered=entered, version=version, person=person)
