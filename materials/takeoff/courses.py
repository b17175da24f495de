"""Where do the joints between courses fall, and how wide are the boards at the two edges?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from materials.takeoff.errors import MeasureAgain


class Start(StrEnum):
    """What the courses are set out from. First is the bottom (level boards) or the left (upright ones)."""

    BOARD_CENTRED = "board_centred"
    JOINT_CENTRED = "joint_centred"
    FIRST_EDGE = "first_edge"
    LAST_EDGE = "last_edge"


OTHER_EDGE = {Start.FIRST_EDGE: Start.LAST_EDGE, Start.LAST_EDGE: Start.FIRST_EDGE}


@dataclass(frozen=True)
class Layout:
    """The lines between courses from 0 to the far edge, ends included; whether they moved half a board."""

    lines_mm10: tuple[int, ...]
    moved_half: bool

    @property
    def count(self) -> int:
        """How many courses."""
        return len(self.lines_mm10) - 1

    @property
    def first_mm10(self) -> int:
        """What the first course covers."""
        return self.lines_mm10[1] - self.lines_mm10[0]

    @property
    def last_mm10(self) -> int:
        """What the last course covers."""
        return self.lines_mm10[-1] - self.lines_mm10[-2]

    def turned_over(self) -> Layout:
        """The same courses counted from the other edge."""
        return Layout(
            tuple(self.lines_mm10[-1] - line for line in reversed(self.lines_mm10)), self.moved_half
        )

    @property
    def narrowest_mm10(self) -> int:
        """The narrower of the two edge boards."""
        return min(self.first_mm10, self.last_mm10)


MOST_COURSES = 1_000
"""A slip of the unit, not a wall: a hundred metres of common board."""

LEAST_STRIP_MM10 = 150
"""A strip of board under 15 mm left beside an opening splits as it is cut (common practice)."""


def weak_strips(lines_mm10: Sequence[int], low_mm10: int, high_mm10: int) -> tuple[tuple[int, int], ...]:
    """Courses (from 1) of which an opening from low to high leaves only a weak strip, and how wide it is.

    >>> weak_strips((0, 1_120, 2_240, 3_360), 1_220, 3_300)
    ((2, 100), (3, 60))
    """
    courses = enumerate(pairwise(lines_mm10), start=1)
    crossed = [(n, bottom, top) for n, (bottom, top) in courses if low_mm10 < top and high_mm10 > bottom]
    left = [(n, strip) for n, bottom, top in crossed for strip in (low_mm10 - bottom, top - high_mm10)]
    return tuple((n, strip) for n, strip in left if 0 < strip < LEAST_STRIP_MM10)


def lay_courses(run_mm10: int, cover_mm10: int, start: Start, least_rip_mm10: int) -> Layout:
    """Set out courses over a run; where an edge board would be under the least rip, move half a board.

    If neither place gives both edges the least rip, the place with the wider narrowest board is kept: the
    caller warns. Raises `MeasureAgain` where the least rip is wider than a board covers.

    >>> layout = lay_courses(24000, 1120, Start.FIRST_EDGE, 0)
    >>> layout.count, layout.last_mm10
    (22, 480)
    """
    if least_rip_mm10 > cover_mm10:
        raise MeasureAgain(
            "The narrowest board allowed is wider than a whole board covers. Measure the board's cover width "
            "again, or allow a narrower one.",
            "least_rip",
        )
    if run_mm10 > MOST_COURSES * cover_mm10:
        raise MeasureAgain(
            f"That is over {MOST_COURSES} courses. Measure the outline again, and the board's cover width.",
            "material_key",
        )
    offset = _offset(run_mm10, cover_mm10, start)
    asked = _layout(run_mm10, cover_mm10, offset, moved_half=False)
    if asked.narrowest_mm10 >= least_rip_mm10 or asked.count == 1:
        return asked
    moved = _layout(run_mm10, cover_mm10, (offset + cover_mm10 // 2) % cover_mm10, moved_half=True)
    return max(asked, moved, key=lambda layout: layout.narrowest_mm10)


def _offset(run_mm10: int, cover_mm10: int, start: Start) -> int:
    """Where the first line between whole boards falls."""
    match start:
        case Start.BOARD_CENTRED:
            return (run_mm10 - cover_mm10) // 2 % cover_mm10
        case Start.JOINT_CENTRED:
            return run_mm10 // 2 % cover_mm10
        case Start.FIRST_EDGE:
            return 0
        case Start.LAST_EDGE:
            return run_mm10 % cover_mm10


def _layout(run_mm10: int, cover_mm10: int, offset: int, *, moved_half: bool) -> Layout:
    between = range(offset or cover_mm10, run_mm10, cover_mm10)
    return Layout((0, *between, run_mm10), moved_half)
