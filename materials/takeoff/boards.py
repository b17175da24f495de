"""Which boards does each course need, cut to what, and round which openings?"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from materials.takeoff import plane
from materials.takeoff.courses import Layout
from materials.takeoff.end_joints import JointRule, Joints, place_joints
from materials.takeoff.result import Grain, Piece

WHOLE_MM10 = 10
"""A board within a millimetre of its full cover is left whole."""

MOST_RUNS = 4
"""A label that would list more runs of courses than this says how many there are instead."""


@dataclass(frozen=True)
class CourseBoard:
    """One board in its place: the course (from 1), the region it covers, what to cut it to.

    `width_mm10` is 0 for a whole board, else what it covers once ripped; `scarf_mm10` is length added
    for a scarf.
    """

    course: int
    region: plane.Region
    length_mm10: int
    width_mm10: int
    shaped: bool
    scarf_mm10: int = 0


@dataclass(frozen=True)
class Boards:
    """All the boards of an outline, the joints by course, and the courses whose joints do not stagger."""

    boards: tuple[CourseBoard, ...]
    joints: tuple[tuple[int, int], ...]
    unstaggered: tuple[int, ...]


def lay_boards(
    region: plane.Region,
    *,
    box: plane.Box,
    layout: Layout,
    cover_mm10: int,
    rule: JointRule,
    scarf_mm10: int,
    eye_line: tuple[int, int, int] | None,
) -> Boards:
    """Cut the region into courses, each course into boards no longer than the rule's reach.

    `eye_line` is (low, high, middle): in courses between low and high joints keep from the middle.
    """
    boards: list[CourseBoard] = []
    joints: list[tuple[int, int]] = []
    unstaggered: list[int] = []
    before: tuple[int, ...] = ()
    for number, stretches in enumerate(plane.strips(region, layout.lines_mm10, box.left, box.right), start=1):
        low, high = layout.lines_mm10[number - 1 : number + 1]
        here = _rule_at(rule, low, high, eye_line)
        placed = [(stretch, _joints_of(stretch, here, before)) for stretch in stretches]
        for stretch, found in placed:
            boards += _boards_of(stretch, number, found.places_mm10, cover_mm10, scarf_mm10)
        places = tuple(place for _, found in placed for place in found.places_mm10)
        joints += [(number, place) for place in places]
        unstaggered += [number] if not all(found.staggered for _, found in placed) else []
        before = places or before
    return Boards(tuple(boards), tuple(joints), tuple(unstaggered))


def _rule_at(rule: JointRule, low: int, high: int, eye_line: tuple[int, int, int] | None) -> JointRule:
    if eye_line is None or high < eye_line[0] or low > eye_line[1]:
        return rule
    return replace(rule, keep_from_mm10=eye_line[2])


def _joints_of(stretch: plane.Region, rule: JointRule, before: Sequence[int]) -> Joints:
    box = plane.bounds(stretch)
    return place_joints(box.left, box.right, rule, before)


def _boards_of(
    stretch: plane.Region, course: int, joints: tuple[int, ...], cover_mm10: int, scarf_mm10: int
) -> list[CourseBoard]:
    if not joints:
        return [_board(stretch, course, cover_mm10, 0)]
    box = plane.bounds(stretch)
    ends = [box.left, *joints, box.right]
    found: list[CourseBoard] = []
    for left, right in itertools.pairwise(ends):
        cut = plane.common(stretch, plane.box(left, box.bottom - 1, right, box.top + 1))
        overlap = 0 if right == box.right else scarf_mm10
        strips = plane.parts(cut)  # several only beside a slot that runs out at a joint: strips of one board
        found += [_board(plane.together(strips), course, cover_mm10, overlap)] if strips else []
    return found


def _board(region: plane.Region, course: int, cover_mm10: int, scarf_mm10: int) -> CourseBoard:
    box = plane.bounds(region)
    ripped = 0 if cover_mm10 - box.height <= WHOLE_MM10 else box.height
    shaped = box.width * box.height - plane.area(region) > plane.SPECK_MM10 * (box.width + box.height)
    return CourseBoard(course, region, box.width + scarf_mm10, ripped, shaped, scarf_mm10)


def turned_over(boards: Boards, *, width_mm10: int, courses: int, upright: bool) -> Boards:
    """The same boards left for right over a wall so wide; upright ones count from the left again."""

    def course(number: int) -> int:
        return courses + 1 - number if upright else number

    def region(held: plane.Region) -> plane.Region:
        if upright:
            return plane.turned(plane.mirrored(plane.turned(held), width_mm10))
        return plane.mirrored(held, width_mm10)

    turned = [
        replace(board, course=course(board.course), region=region(board.region)) for board in boards.boards
    ]
    return Boards(
        tuple(sorted(turned, key=lambda board: board.course)),
        tuple(sorted((course(n), place if upright else width_mm10 - place) for n, place in boards.joints)),
        tuple(sorted(map(course, boards.unstaggered))),
    )


def pieces_of(boards: Sequence[CourseBoard], material_key: str, name: str) -> tuple[Piece, ...]:
    """Boards of one size and sort as one line to cut, longest first; the label says for which courses."""
    sorts: dict[tuple[int, int, bool], list[int]] = {}
    for board in boards:
        sorts.setdefault((board.length_mm10, board.width_mm10, board.shaped), []).append(board.course)
    ordered = sorted(sorts.items(), key=lambda sort: (-sort[0][0], sort[0][1], sort[0][2]))
    return tuple(
        Piece(
            material_key=material_key,
            length_mm10=length,
            width_mm10=width,
            quantity=len(courses),
            grain=Grain.ALONG_LENGTH,
            label=_label(name, courses, ripped=bool(width), shaped=shaped),
        )
        for (length, width, shaped), courses in ordered
    )


def _label(name: str, courses: Sequence[int], *, ripped: bool, shaped: bool) -> str:
    runs = number_ranges(courses)
    if runs.count(",") > MOST_RUNS:
        runs = f"{min(courses)}–{max(courses)}, {len(set(courses))} of them"
    sort = " and ".join(word for word, holds in (("ripped", ripped), ("cut to shape", shaped)) if holds)
    return f"{name} {runs}" + (f", {sort}" if sort else "")


def number_ranges(numbers: Sequence[int]) -> str:
    """Numbers in short.

    >>> number_ranges([1, 2, 3, 5, 8, 9])
    '1–3, 5, 8–9'
    """
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)


def total_length_m(boards: Sequence[CourseBoard]) -> Decimal:
    """All boards end to end, in metres."""
    return Decimal(sum(board.length_mm10 for board in boards)) / 10_000
