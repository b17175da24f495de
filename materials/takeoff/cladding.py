"""How many courses of board cover this outline, and what is cut for them?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from materials.takeoff import plane
from materials.takeoff.boards import (
    Boards,
    lay_boards,
    number_ranges,
    pieces_of,
    total_length_m,
    turned_over,
)
from materials.takeoff.courses import MOST_COURSES, OTHER_EDGE, Layout, Start, lay_courses, weak_strips
from materials.takeoff.drawing import Dimension, Drawing, Label, Path, Spot, Stroke
from materials.takeoff.end_joints import EndJoint, JointRule
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted, metres, plain, rounded
from materials.takeoff.mass import board_mass, density_step
from materials.takeoff.outline import Measured, Outline, measure, outline_paths, size_dimensions
from materials.takeoff.result import Operation, Result, Step, Unit, Work, marks_at
from materials.takeoff.specs import Catalogue, MaterialSpec

RULE = "cladding 2"

EYE_LINE_HALF_MM10 = 3_000
"""Joints within 300 mm of the eye line show most."""

LEAST_END_MM10 = 3_000
"""A board shorter than 300 mm beside a joint is not worth fixing."""


class Direction(StrEnum):
    """Which way the boards run."""

    LEVEL = "level"
    UPRIGHT = "upright"


@dataclass(frozen=True)
class Fitting:
    """Something fixed to the boards, by its middle."""

    name: str
    across_mm10: int
    up_mm10: int


@dataclass(frozen=True)
class Cladding:
    """Boards over an outline. Battens run across the boards at centres from the left (or bottom) edge."""

    outline: Outline
    material_key: str
    direction: Direction = Direction.LEVEL
    start: Start = Start.FIRST_EDGE
    least_rip_mm10: int = 0
    end_joint: EndJoint = EndJoint.BUTT
    batten_spacing_mm10: int = 0
    stagger_mm10: int = 3_000
    eye_line_mm10: int = 0
    fittings: tuple[Fitting, ...] = ()


@dataclass(frozen=True)
class LaidOut:
    """A cladding once set out, with its boards running level whatever way they run on the wall."""

    inputs: Cladding
    spec: MaterialSpec
    measured: Measured
    box: plane.Box
    layout: Layout
    boards: Boards
    battens_mm10: tuple[int, ...]


def take_off(inputs: Cladding, catalogue: Catalogue) -> Result:
    """Courses, boards, waste and mass of a cladding; raises `MeasureAgain` where it can't be built."""
    return result_of(lay_out(inputs, catalogue), catalogue)


def result_of(laid: LaidOut, catalogue: Catalogue) -> Result:
    """What is said of a cladding once laid out: pieces, working, work, cautions, drawing."""
    inputs, length_m = laid.inputs, total_length_m(laid.boards.boards)
    mass_kg = board_mass(laid.measured.net_m2 / metres(laid.spec.cover_mm10), laid.spec)
    return Result(
        rule=RULE,
        headline=f"{counted(laid.layout.count, 'course')}, {plain(length_m, 1)} m of board",
        steps=(
            *laid.measured.steps,
            *_course_steps(laid, catalogue),
            *_board_steps(laid, catalogue, mass_kg),
        ),
        pieces=pieces_of(laid.boards.boards, inputs.material_key, "course"),
        work=_work(laid),
        mass_kg=mass_kg,
        cautions=_cautions(laid, catalogue),
        drawing=_drawing(laid, catalogue),
        area_m2=laid.measured.net_m2,
        centre_mm10=plane.centre(laid.measured.net),
        marks=marks_at(
            (f"course {n}, far edge", line) for n, line in enumerate(laid.layout.lines_mm10[1:], 1)
        ),
        datum=f"the {edges_of(inputs.direction)[0]} edge",
    )


def lay_out(inputs: Cladding, catalogue: Catalogue) -> LaidOut:
    """Set the courses out and cut the boards, before anything is said about them."""
    spec = catalogue.spec(inputs.material_key)
    if spec.cover_mm10 <= 0:
        raise MeasureAgain(f"{spec.name} has no cover width in the catalogue. Measure it.", "material_key")
    measured = measure(inputs.outline, catalogue)
    region = _as_measured(measured, inputs)
    box = _box(measured, inputs.direction)
    layout = lay_courses(box.top, spec.cover_mm10, inputs.start, inputs.least_rip_mm10)
    battens = _battens(box.right, inputs.batten_spacing_mm10)
    scarf = spec.thickness_mm10 if inputs.end_joint is EndJoint.SCARF else 0
    rule = _joint_rule(inputs, spec, box, battens, scarf)
    boards = lay_boards(
        region,
        box=box,
        layout=layout,
        cover_mm10=spec.cover_mm10,
        rule=rule,
        scarf_mm10=scarf,
        eye_line=_eye_line(inputs, box),
    )
    laid = LaidOut(inputs, spec, measured, box, layout, boards, battens)
    return _turned_over(laid) if inputs.outline.other_hand else laid


def _as_measured(measured: Measured, inputs: Cladding) -> plane.Region:
    """What is covered, its boards level, to the hand that it was measured by."""
    other_hand = inputs.outline.other_hand
    net = plane.mirrored(measured.net, measured.box.right) if other_hand else measured.net
    return plane.turned(net) if inputs.direction is Direction.UPRIGHT else net


def _turned_over(laid: LaidOut) -> LaidOut:
    """A wall laid out by the hand it was measured by, as it is made: left for right."""
    upright, wide = laid.inputs.direction is Direction.UPRIGHT, laid.measured.box.right
    return replace(
        laid,
        inputs=_inputs_turned_over(laid.inputs, wide),
        layout=laid.layout.turned_over() if upright else laid.layout,
        boards=turned_over(laid.boards, width_mm10=wide, courses=laid.layout.count, upright=upright),
        battens_mm10=laid.battens_mm10 if upright else tuple(wide - p for p in reversed(laid.battens_mm10)),
    )


def _inputs_turned_over(inputs: Cladding, wide: int) -> Cladding:
    fittings = tuple(replace(each, across_mm10=wide - each.across_mm10) for each in inputs.fittings)
    return replace(inputs, fittings=fittings, start=start_as_made(inputs, inputs.start))


def start_as_made(inputs: Cladding, start: Start) -> Start:
    """What the courses start from once made: upright boards on the other hand from the other edge."""
    turns = inputs.outline.other_hand and inputs.direction is Direction.UPRIGHT
    return OTHER_EDGE.get(start, start) if turns else start


def _battens(run_mm10: int, spacing_mm10: int) -> tuple[int, ...]:
    if not spacing_mm10:
        return ()
    if run_mm10 > MOST_COURSES * spacing_mm10:
        raise MeasureAgain(
            f"That is more than {MOST_COURSES} battens. Measure their centres again.", "batten_spacing"
        )
    return tuple(range(0, run_mm10 + 1, spacing_mm10))


def _box(measured: Measured, direction: Direction) -> plane.Box:
    wide, high = measured.box.right, measured.box.top
    return plane.Box(0, 0, high, wide) if direction is Direction.UPRIGHT else plane.Box(0, 0, wide, high)


def _joint_rule(
    inputs: Cladding, spec: MaterialSpec, box: plane.Box, battens: tuple[int, ...], scarf: int
) -> JointRule:
    longest = spec.longest_mm10 or box.width
    reach = longest - scarf
    if reach <= LEAST_END_MM10 and box.width > longest:
        raise MeasureAgain(f"{spec.name} is too short in stock to be joined end to end.", "material_key")
    return JointRule(reach, LEAST_END_MM10, battens, inputs.stagger_mm10, last_more_mm10=scarf)


def _eye_line(inputs: Cladding, box: plane.Box) -> tuple[int, int, int] | None:
    if not inputs.eye_line_mm10 or inputs.direction is Direction.UPRIGHT:
        return None
    low, high = inputs.eye_line_mm10 - EYE_LINE_HALF_MM10, inputs.eye_line_mm10 + EYE_LINE_HALF_MM10
    return low, high, box.width // 2


_START_WORDS = {
    Start.BOARD_CENTRED: "a board on the centre line",
    Start.JOINT_CENTRED: "a joint on the centre line",
    Start.FIRST_EDGE: "a whole board at the {first}",
    Start.LAST_EDGE: "a whole board at the {last}",
}


def edges_of(direction: Direction) -> tuple[str, str]:
    """What the first and the last edge are called."""
    return ("left", "right") if direction is Direction.UPRIGHT else ("bottom", "top")


def _course_steps(laid: LaidOut, catalogue: Catalogue) -> tuple[Step, ...]:
    spec, layout, run = laid.spec, laid.layout, laid.box.top
    first, last = edges_of(laid.inputs.direction)
    tongue = spec.width_mm10 - spec.cover_mm10
    cover = f"{catalogue.figure(spec.width_mm10)} − {catalogue.figure(tongue)} = " if tongue > 0 else ""
    ratio = rounded(Decimal(run) / spec.cover_mm10, 2)
    start = _START_WORDS[laid.inputs.start].format(first=first, last=last)
    moved = ", moved half a board so that no edge board is too narrow" if layout.moved_half else ""
    edge_boards = f"{first} {catalogue.show(layout.first_mm10)}, {last} {catalogue.show(layout.last_mm10)}"
    return (
        Step(f"{spec.name} covers", f"{cover}{catalogue.show(spec.cover_mm10)}", "overall width − tongue"),
        Step(
            "Run across the courses ÷ cover",
            f"{catalogue.figure(run)} ÷ {catalogue.figure(spec.cover_mm10)} = {plain(ratio, 2)}",
            "part of a board is a board",
        ),
        Step(
            f"Set out from {start}{moved}",
            f"{counted(layout.count, 'course')}; {edge_boards}",
            f"least rip {catalogue.show(laid.inputs.least_rip_mm10)}",
        ),
    )


def _board_steps(laid: LaidOut, catalogue: Catalogue, mass_kg: Decimal | None) -> tuple[Step, ...]:
    boards = laid.boards.boards
    length_m = total_length_m(boards)
    shaped = sum(board.shaped for board in boards)
    steps = [
        Step("Boards to cut", f"{len(boards)}, {plain(length_m, 2)} m in all", "each to its longest point")
    ]
    if laid.boards.joints:
        steps.append(_joint_step(laid, catalogue))
    if shaped:
        steps.append(Step("Boards cut round an opening or to the edge", str(shaped)))
    covered = length_m * metres(laid.spec.cover_mm10)
    beyond = covered - laid.measured.net_m2
    steps.append(
        Step(
            "Area of the boards as cut, against what they cover",
            f"{plain(covered, 3)} − {plain(laid.measured.net_m2, 3)} = {plain(beyond, 3)} m² lost at edges",
            "before offcuts from stock",
        )
    )
    steps += [_fitting_step(fitting, laid, catalogue) for fitting in laid.inputs.fittings]
    return (*steps, *density_step(laid.spec, laid.measured.net_m2, mass_kg, catalogue))


def _joint_step(laid: LaidOut, catalogue: Catalogue) -> Step:
    landing = "on a batten" if laid.battens_mm10 else "anywhere"
    scarf = (
        f"; scarf at 45° takes {catalogue.show(laid.spec.thickness_mm10)} more a joint"
        if laid.inputs.end_joint is EndJoint.SCARF
        else ""
    )
    return Step(
        f"End joints, {laid.inputs.end_joint}, {landing}, "
        f"{catalogue.show(laid.inputs.stagger_mm10)} apart{scarf}",
        str(len(laid.boards.joints)),
        f"longest stock {catalogue.show(laid.spec.longest_mm10)}",
    )


def _fitting_step(fitting: Fitting, laid: LaidOut, catalogue: Catalogue) -> Step:
    place = fitting.across_mm10 if laid.inputs.direction is Direction.UPRIGHT else fitting.up_mm10
    course, middle = course_at(laid.layout, place)
    if course == 0:
        return Step(f"{fitting.name} lies off the boards", rule="course by position")
    off = place - middle
    if off == 0:
        return Step(f"{fitting.name} sits on the centre line of course {course}", rule="course by position")
    away = ("right", "left") if laid.inputs.direction is Direction.UPRIGHT else ("up", "down")
    return Step(
        f"{fitting.name} falls on course {course}; move it {catalogue.show(abs(off))} "
        f"{away[1] if off > 0 else away[0]} to the board's centre line",
        f"centre line at {catalogue.show(middle)}",
        "course by position",
    )


def course_at(layout: Layout, place_mm10: int) -> tuple[int, int]:
    """The course that covers a place, and that course's centre line; (0, 0) off the run."""
    for number, (low, high) in enumerate(
        zip(layout.lines_mm10, layout.lines_mm10[1:], strict=False), start=1
    ):
        if low <= place_mm10 <= high:
            return number, (low + high) // 2
    return 0, 0


def _work(laid: LaidOut) -> tuple[Work, ...]:
    cut_outs = len(laid.inputs.outline.openings) + len(laid.inputs.fittings)
    found = (
        Work(Operation.CLAD, laid.measured.net_m2, Unit.SQUARE_METRE),
        Work(Operation.CUT_OUT, Decimal(cut_outs), Unit.EACH),
        Work(Operation.END_JOINT, Decimal(len(laid.boards.joints)), Unit.EACH),
    )
    return tuple(work for work in found if work.amount)


def _cautions(laid: LaidOut, catalogue: Catalogue) -> tuple[str, ...]:
    layout, cover = laid.layout, laid.spec.cover_mm10
    first, last = edges_of(laid.inputs.direction)
    found: list[str] = []
    for edge, width in ((first, layout.first_mm10), (last, layout.last_mm10)):
        if width < laid.inputs.least_rip_mm10:
            found.append(
                f"The {edge} board covers {catalogue.show(width)}, under the least rip: no start gives both "
                "edges more. Pack out the edge, or allow a narrower board."
            )
        elif 2 * width < cover:
            found.append(f"The {edge} board covers only {catalogue.show(width)}, under half a board.")
    found += _weak_strips(laid, catalogue)
    if laid.boards.unstaggered:
        found.append(
            f"End joints in course {number_ranges(laid.boards.unstaggered)} fall nearer than "
            f"{catalogue.show(laid.inputs.stagger_mm10)} to those of the course before."
        )
    if laid.spec.longest_mm10 == 0:
        found.append(f"{laid.spec.name} has no stock length yet: every board is taken as one piece.")
    return tuple(found)


def _weak_strips(laid: LaidOut, catalogue: Catalogue) -> list[str]:
    found: list[str] = []
    for opening, hole in laid.measured.cut_outs:
        box = plane.bounds(hole)
        upright = laid.inputs.direction is Direction.UPRIGHT
        low, high = (box.left, box.right) if upright else (box.bottom, box.top)
        found += [
            f"Course {course} keeps only {catalogue.show(strip)} beside {opening.name or 'an opening'} and "
            "may split there: shift the start, or the opening."
            for course, strip in weak_strips(laid.layout.lines_mm10, low, high)
        ]
    return found


def _drawing(laid: LaidOut, catalogue: Catalogue) -> Drawing:
    upright = laid.inputs.direction is Direction.UPRIGHT
    paths = [
        Path(_stand(ring, upright=upright), Stroke.RIPPED if board.width_mm10 else Stroke.BOARD)
        for board in laid.boards.boards
        for ring in plane.rings(board.region)
    ]
    battens = [
        Path(_stand(((place, 0), (place, laid.box.top)), upright=upright), Stroke.BATTEN, closed=False)
        for place in laid.battens_mm10
    ]
    crosses = [path for fitting in laid.inputs.fittings for path in _cross(fitting)]
    measured = laid.measured
    return Drawing(
        width_mm10=measured.box.right,
        height_mm10=measured.box.top,
        paths=(*paths, *battens, *outline_paths(measured), *crosses),
        labels=tuple(Label((f.across_mm10, f.up_mm10), f.name) for f in laid.inputs.fittings),
        dimensions=(*_edge_dimensions(laid, catalogue), *size_dimensions(measured, catalogue, row=1)),
        title=f"{counted(laid.layout.count, 'course')} of {laid.spec.name}",
    )


def _edge_dimensions(laid: LaidOut, catalogue: Catalogue) -> tuple[Dimension, ...]:
    lines = laid.layout.lines_mm10
    across = laid.inputs.direction is Direction.UPRIGHT
    stretches = [(lines[0], lines[1])] if len(lines) == 2 else [(lines[0], lines[1]), (lines[-2], lines[-1])]
    return tuple(Dimension(low, high, catalogue.figure(high - low), across=across) for low, high in stretches)


def _stand(spots: Sequence[Spot], *, upright: bool) -> tuple[Spot, ...]:
    return tuple((y, x) for x, y in spots) if upright else tuple(spots)


def _cross(fitting: Fitting) -> tuple[Path, Path]:
    x, y, arm = fitting.across_mm10, fitting.up_mm10, 400
    return (
        Path(((x - arm, y), (x + arm, y)), Stroke.CENTRE, closed=False),
        Path(((x, y - arm), (x, y + arm)), Stroke.CENTRE, closed=False),
    )
