"""Where do boards shorter than the run meet end to end?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from materials.takeoff.errors import MeasureAgain

FREE_STEP_MM10 = 500
"""With no battens to land on, joints may fall every 50 mm."""


class EndJoint(StrEnum):
    """How two boards of one course meet."""

    BUTT = "butt"
    SCARF = "scarf"


@dataclass(frozen=True)
class JointRule:
    """What binds the joints of a course.

    `reach_mm10` is the longest stretch one board can cover, `least_mm10` the shortest worth fixing,
    `battens_mm10` the places a joint may fall on (empty: anywhere), `stagger_mm10` how far it must keep from
    the joints of the course before, `keep_from_mm10` a place to stay away from where there is a choice.
    """

    reach_mm10: int
    least_mm10: int = 3000
    battens_mm10: tuple[int, ...] = ()
    stagger_mm10: int = 3000
    keep_from_mm10: int | None = None


@dataclass(frozen=True)
class Joints:
    """Where the joints of one course fall, and whether they keep the stagger."""

    places_mm10: tuple[int, ...] = ()
    staggered: bool = True


@dataclass(frozen=True)
class _Chain:
    """Joints so far, and how near the nearest of them is to a joint of the course before."""

    nearest: float
    ease: float
    places: tuple[int, ...] = ()


def place_joints(start_mm10: int, end_mm10: int, rule: JointRule, before: Sequence[int]) -> Joints:
    """The fewest joints that reach, as far from the neighbours' joints as they go; one more if that staggers.

    Raises `MeasureAgain` where no batten lies within a board's reach.
    """
    if end_mm10 - start_mm10 <= rule.reach_mm10:
        return Joints()
    allowed = _allowed(start_mm10, end_mm10, rule)
    fewest = math.ceil((end_mm10 - start_mm10) / rule.reach_mm10) - 1
    best: _Chain | None = None
    for count in range(fewest, fewest + 4):
        chain = _best_chain((start_mm10, end_mm10), count, allowed, rule, before)
        if chain and (best is None or chain.nearest > best.nearest):
            best = chain
        if best and (best.nearest >= rule.stagger_mm10 or count > fewest):
            break
    if best is None:
        raise MeasureAgain(
            "The boards do not reach from batten to batten: no joint can land on one. Measure the batten "
            "centres again, or choose longer boards.",
            "batten_spacing",
        )
    return Joints(best.places, best.nearest >= rule.stagger_mm10)


def _allowed(start_mm10: int, end_mm10: int, rule: JointRule) -> list[int]:
    places = rule.battens_mm10 or tuple(range(start_mm10 + FREE_STEP_MM10, end_mm10, FREE_STEP_MM10))
    return [place for place in places if start_mm10 < place < end_mm10]


def _best_chain(
    ends: tuple[int, int], count: int, allowed: list[int], rule: JointRule, before: Sequence[int]
) -> _Chain | None:
    """The best run of exactly `count` joints, found joint by joint (dynamic programme)."""
    start, end = ends
    chains = {start: _Chain(math.inf, math.inf)}
    for _ in range(count):
        chains = _extend(chains, allowed, rule, before)
    closing = [chain for place, chain in chains.items() if _reaches(place, end, rule)]
    return max(closing, key=lambda chain: (chain.nearest, chain.ease), default=None)


def _extend(
    chains: dict[int, _Chain], allowed: list[int], rule: JointRule, before: Sequence[int]
) -> dict[int, _Chain]:
    grown: dict[int, _Chain] = {}
    for place in allowed:
        near = min((abs(place - other) for other in before), default=math.inf)
        near = min(near, rule.stagger_mm10)
        ease = abs(place - rule.keep_from_mm10) if rule.keep_from_mm10 is not None else math.inf
        options = [
            _Chain(min(chain.nearest, near), min(chain.ease, ease), (*chain.places, place))
            for last, chain in chains.items()
            if _reaches(last, place, rule)
        ]
        if options:
            grown[place] = max(options, key=lambda chain: (chain.nearest, chain.ease))
    return grown


def _reaches(last: int, place: int, rule: JointRule) -> bool:
    return rule.least_mm10 <= place - last <= rule.reach_mm10
