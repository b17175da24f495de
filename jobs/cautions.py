"""What does each caution ask of whoever does the work? Local codes and licensed practice stand first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.enums import Caution

WORDS: dict[str, str] = {
    Caution.DUST: (
        "Wood dust harms the lungs and can burn or explode. Extract at the machine, wear a fitted mask, and "
        "keep to the exposure limits where you work."
    ),
    Caution.ELECTRICS: (
        "Fixed wiring is for somebody licensed or certified for it where you work. Isolate and prove dead "
        "before cutting or screwing near cables."
    ),
    Caution.GAS: (
        "Gas appliances and pipes are for somebody registered for that kind of place. Keep vents and "
        "drop-outs open; fit alarms as the code asks."
    ),
    Caution.STRUCTURE: (
        "Before a frame, joist or bulkhead is cut, have somebody qualified say what carries what, and follow "
        "the local building or vessel code."
    ),
    Caution.MASS: (
        "What is fitted counts against the plated limit, axle by axle. Weigh before and after; an estimate "
        "is no weighbridge ticket."
    ),
    Caution.HEIGHTS: "Plan work at height: a proper platform, somebody below warned, and local rules kept.",
}


@dataclass(frozen=True)
class Warned:
    """A caution by name, and what it asks."""

    name: str
    words: str


def warnings(cautions: Iterable[str]) -> list[Warned]:
    """What each caution asks; words that are no caution are passed over."""
    return [Warned(Caution(word).label, WORDS[word]) for word in cautions if word in Caution.values]
