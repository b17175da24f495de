"""One thing, two or three ways to make it: thick board or thin, one panel or two, paint or veneer."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from materials.takeoff.codec import from_json
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.kinds import Kind, simple_kind
from materials.takeoff.result import Result, Step
from materials.takeoff.specs import Catalogue

MOST_WAYS = 4


@dataclass(frozen=True)
class Way:
    """One way to make it: a take-off of any kind, with what was entered for it."""

    name: str
    kind: str
    inputs: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Ways:
    """The ways side by side, and which one is taken (from 0)."""

    ways: tuple[Way, ...]
    chosen: int = 0


@dataclass(frozen=True)
class WayCompared:
    """A way with its result, or with the words that say why it can't be built."""

    way: Way
    chosen: bool
    result: Result | None
    trouble: str = ""


def compare(inputs: Ways, catalogue: Catalogue) -> tuple[WayCompared, ...]:
    """Every way computed; one that can't be built stands there with its message, the rest beside it."""
    return tuple(_compared(way, number == inputs.chosen, catalogue) for number, way in enumerate(inputs.ways))


def _compared(way: Way, chosen: bool, catalogue: Catalogue) -> WayCompared:
    try:
        return WayCompared(way, chosen, _compute(way, catalogue))
    except MeasureAgain as trouble:
        return WayCompared(way, chosen, None, trouble.message)


def _compute(way: Way, catalogue: Catalogue) -> Result:
    kind = simple_kind(way.kind)
    return kind.compute(from_json(way.inputs, kind.inputs), catalogue)


def take_off(inputs: Ways, catalogue: Catalogue) -> Result:
    """The result of the way that is taken, its working headed by the choice."""
    if not 1 <= len(inputs.ways) <= MOST_WAYS:
        raise MeasureAgain(f"Compare from one to {MOST_WAYS} ways.", "ways")
    if not 0 <= inputs.chosen < len(inputs.ways):
        raise MeasureAgain("Choose one of the ways.", "chosen")
    way = inputs.ways[inputs.chosen]
    others = ", ".join(other.name for number, other in enumerate(inputs.ways) if number != inputs.chosen)
    heading = Step(f"Taken: {way.name}", f"instead of {others}" if others else "")
    result = _compute(way, catalogue)
    return replace(result, headline=f"{way.name}: {result.headline}", steps=(heading, *result.steps))


WAYS_KIND = Kind("ways", "Alternatives", Ways, take_off)
