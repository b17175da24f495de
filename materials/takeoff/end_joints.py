"""Where do boards shorter than the run meet end to end?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
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
    the joints of the course before, `keep_from_mm10` a place to stay away from where there is a choice. The
    last board of a course covers `last_more_mm10` more: no scarf is cut beyond it.
    """

    reach_mm10: int
    least_mm10: int = 3000
    battens_mm10: tuple[int, ...] = ()
    stagger_mm10: int = 3000
    keep_from_mm10: int | None = None
    last_more_mm10: int = 0


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
    ends, run = (start_mm10, end_mm10), end_mm10 - start_mm10 - rule.last_more_mm10
    if run <= rule.reach_mm10:
        return Joints()
    fewest = -(-run // rule.reach_mm10) - 1
    allowed = _allowed(ends, rule)
    best = _best_chain(ends, fewest, allowed, rule, before)
    if best is None and not rule.battens_mm10:
        allowed = sorted({*allowed, *_whole_boards(ends, rule)})
        best = _best_chain(ends, fewest, allowed, rule, before)
    for count in range(fewest + 1, fewest + 4):
        if best and best.nearest >= rule.stagger_mm10:
            break
        chain = _best_chain(ends, count, allowed, rule, before)
        if chain and (best is None or chain.nearest > best.nearest):
            best = chain
        if best:
            break
    if best is None:
        raise MeasureAgain(
            "The boards do not reach from batten to batten: no joint can land on one. Measure the batten "
            "centres again, or choose longer boards.",
            "batten_spacing",
        )
    return Joints(best.places, best.nearest >= rule.stagger_mm10)


def _allowed(ends: tuple[int, int], rule: JointRule) -> list[int]:
    start, end = ends
    places = rule.battens_mm10 or tuple(range(start + FREE_STEP_MM10, end, FREE_STEP_MM10))
    return [place for place in places if start < place < end]


def _whole_boards(ends: tuple[int, int], rule: JointRule) -> set[int]:
    """Where whole boards laid from either end meet: what serves where 50 mm is too coarse a step."""
    start, end = ends
    last = end - rule.reach_mm10 - rule.last_more_mm10
    return {*range(start + rule.reach_mm10, end, rule.reach_mm10), *range(last, start, -rule.reach_mm10)}


def _best_chain(
    ends: tuple[int, int], count: int, allowed: list[int], rule: JointRule, before: Sequence[int]
) -> _Chain | None:
    """The best run of exactly `count` joints, found joint by joint (dynamic programme)."""
    start, end = ends
    chains = {start: _Chain(math.inf, math.inf)}
    for _ in range(count):
        chains = _extend(chains, allowed, rule, before)
    last = replace(rule, reach_mm10=rule.reach_mm10 + rule.last_more_mm10)
    closing = [chain for place, chain in chains.items() if _reaches(place, end, last)]
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
