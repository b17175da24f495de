"""How is an outline lined in sheet, and where do the joints fall if it is larger than any sheet?"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from materials.takeoff import plane
from materials.takeoff.cladding import Direction
from materials.takeoff.drawing import Path, Stroke
from materials.takeoff.end_joints import JointRule, place_joints
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted, metres, plain, rounded
from materials.takeoff.lining_drawing import draw, lines_over
from materials.takeoff.mass import density_step, sheet_mass
from materials.takeoff.outline import (
    Measured,
    Outline,
    measure,
    places_as_made,
)
from materials.takeoff.result import Grain, Operation, Piece, Result, Step, Unit, Work, marks_at
from materials.takeoff.sheets import trim_cautions
from materials.takeoff.specs import Catalogue, MaterialSpec

RULE = "sheet lining 3"
LEAST_STRIP_MM10 = 1_000
MOST_LINES = 2_000

Place = tuple[int, int]
"""Which column from the left and which row from the bottom, from 1."""
Grid = Mapping[Place, list[plane.Region]]
"""What lies between the joints: one stretch a place, or several round an opening."""


class Landing(StrEnum):
    """What a joint between sheets falls on."""

    ANYWHERE = "anywhere"
    BATTEN = "batten"
    GROOVE = "groove"
    HIDDEN = "hidden"


@dataclass(frozen=True)
class Lining:
    """Sheet over an outline; `direction` is the way the sheet's length runs.

    Battens are at `pitch_mm10` centres, the first at `first_mm10` from the left (and from the bottom for
    joints that run level). Grooves, at those centres too, run the way of the sheet's length. `hidden_mm10`
    are places from the left that something fitted later will cover. `flush_mm10` is left on every edge to
    trim, `gap_mm10` between sheets at each joint.
    """

    outline: Outline
    material_key: str
    direction: Direction = Direction.UPRIGHT
    landing: Landing = Landing.ANYWHERE
    pitch_mm10: int = 0
    first_mm10: int = 0
    hidden_mm10: tuple[int, ...] = ()
    flush_mm10: int = 0
    gap_mm10: int = 0


@dataclass(frozen=True)
class Panel:
    """One sheet part in its place, and the size to cut it to (across × up)."""

    region: plane.Region
    wide_mm10: int
    high_mm10: int
    shaped: bool
    family: str = ""


def take_off(inputs: Lining, catalogue: Catalogue) -> Result:
    """The panels of a lining; raises `MeasureAgain` where no joint can fall where it is asked to."""
    spec = catalogue.spec(inputs.material_key)
    measured = measure(inputs.outline, catalogue)
    wide, high = _sheet_size(inputs, spec)
    across = _as_made(_joints(measured.box.right, wide, inputs, level=False), inputs, measured)
    up = _joints(measured.box.top, high, inputs, level=True)
    panels = _panels(measured, across, up, inputs)
    pieces = _pieces(panels, inputs, spec)
    mass_kg = sheet_mass(measured.net_m2, spec)
    steps = (
        *measured.steps,
        *_steps(
            panels,
            across=across,
            up=up,
            grooves=_grooves(measured, inputs),
            inputs=inputs,
            spec=spec,
            catalogue=catalogue,
        ),
    )
    return Result(
        rule=RULE,
        headline=f"{counted(len(panels), 'panel')}, {plain(measured.net_m2, 2)} m²",
        steps=(*steps, *density_step(spec, measured.net_m2, mass_kg, catalogue)),
        pieces=pieces,
        work=_work(panels, inputs, measured),
        mass_kg=mass_kg,
        cautions=(*_cautions(inputs, across, up), *trim_cautions(pieces, spec, catalogue)),
        drawing=draw(
            measured,
            [panel.region for panel in panels],
            _line_paths(measured, inputs, across, up),
            (across, up),
            catalogue,
        ),
        area_m2=measured.net_m2,
        centre_mm10=plane.centre(measured.net),
        marks=marks_at((f"upright joint {number}", place) for number, place in enumerate(across, 1)),
        datum="the left edge",
    )


def _as_made(across: tuple[int, ...], inputs: Lining, measured: Measured) -> tuple[int, ...]:
    return places_as_made(across, inputs.outline, measured.box.right)


def _sheet_size(inputs: Lining, spec: MaterialSpec) -> tuple[int, int]:
    """How far one sheet reaches across and up, less what is left on to trim."""
    if not spec.stock:
        raise MeasureAgain(f"{spec.name} has no sheet size in the catalogue. Add one.", "material_key")
    biggest = max(spec.stock, key=lambda sheet: sheet.length_mm10 * sheet.width_mm10)
    length, width = biggest.length_mm10 - 2 * inputs.flush_mm10, biggest.width_mm10 - 2 * inputs.flush_mm10
    if min(length, width) <= LEAST_STRIP_MM10:
        raise MeasureAgain("So much left on to trim leaves no sheet. Measure the allowance again.", "flush")
    return (width, length) if inputs.direction is Direction.UPRIGHT else (length, width)


def _joints(run: int, reach: int, inputs: Lining, *, level: bool) -> tuple[int, ...]:
    if run <= reach:
        return ()
    rule = JointRule(reach_mm10=reach, least_mm10=LEAST_STRIP_MM10, stagger_mm10=0)
    if inputs.landing is Landing.HIDDEN and not level:
        return _hidden_joints(run, rule, inputs)
    if inputs.landing is Landing.BATTEN or (inputs.landing is Landing.GROOVE and _along(inputs, level=level)):
        return _placed(run, replace(rule, battens_mm10=_lines(run, inputs)), inputs)
    return place_joints(0, run, replace(rule, battens_mm10=_evenly(run, reach)), ()).places_mm10


def _along(inputs: Lining, *, level: bool) -> bool:
    """Whether a joint that way runs along the sheet's length, and so along its grooves."""
    return level is (inputs.direction is Direction.LEVEL)


def _lines(run: int, inputs: Lining) -> tuple[int, ...]:
    """Where battens or grooves cross a run."""
    if inputs.pitch_mm10 <= 0:
        raise MeasureAgain(f"How far apart are the {inputs.landing}s? Measure their centres.", "pitch")
    if run > MOST_LINES * inputs.pitch_mm10:
        raise MeasureAgain(
            f"The {inputs.landing}s are so close that over {MOST_LINES} cross it. Measure their centres.",
            "pitch",
        )
    return tuple(range(inputs.first_mm10 or inputs.pitch_mm10, run, inputs.pitch_mm10))


def _evenly(run: int, reach: int) -> tuple[int, ...]:
    """With a free choice, panels of equal size look intended."""
    count = -(-run // reach)
    return tuple(-(-run * n // count) for n in range(1, count))


def _hidden_joints(run: int, rule: JointRule, inputs: Lining) -> tuple[int, ...]:
    if not inputs.hidden_mm10:
        raise MeasureAgain("Where will a fitting hide the joint? Measure its place from the left.", "hidden")
    return _placed(run, replace(rule, battens_mm10=tuple(sorted(inputs.hidden_mm10))), inputs)


def _placed(run: int, rule: JointRule, inputs: Lining) -> tuple[int, ...]:
    try:
        return place_joints(0, run, rule, ()).places_mm10
    except MeasureAgain:
        where = {"hidden": "hidden place", "batten": "batten", "groove": "groove"}[inputs.landing]
        field = "hidden" if inputs.landing is Landing.HIDDEN else "pitch"
        raise MeasureAgain(
            f"No {where} lies within a sheet's reach, so the joint can't fall on one. Measure their places "
            "again, or let the joint fall anywhere.",
            field,
        ) from None


def _panels(
    measured: Measured, across: tuple[int, ...], up: tuple[int, ...], inputs: Lining
) -> tuple[Panel, ...]:
    columns = [0, *across, measured.box.right]
    rows = (0, *up, measured.box.top)
    grid = {
        (column, row): stretches
        for column, (left, right) in enumerate(itertools.pairwise(columns), start=1)
        for row, stretches in enumerate(plane.strips(measured.net, rows, left, right), start=1)
    }
    return tuple(_panel(part, place, grid, inputs) for place, parts in grid.items() for part in parts)


def _family(inputs: Lining, number: int) -> str:
    """Panels that meet end to end, their grooves running on from one to the next."""
    return (
        f"{'column' if inputs.direction is Direction.UPRIGHT else 'row'} {number}" if _grooved(inputs) else ""
    )


def _grooved(inputs: Lining) -> bool:
    return inputs.landing is Landing.GROOVE


def _panel(region: plane.Region, place: Place, grid: Grid, inputs: Lining) -> Panel:
    """A panel gives up half the gap at each edge that meets another panel."""
    column, row = place
    beside = _meets(region, grid, (column - 1, row)) + _meets(region, grid, (column + 1, row))
    over = _meets(region, grid, (column, row - 1)) + _meets(region, grid, (column, row + 1))
    box, half = plane.bounds(region), inputs.gap_mm10 // 2
    shaped = box.width * box.height - plane.area(region) > plane.SPECK_MM10 * (box.width + box.height)
    return Panel(
        region,
        box.width - half * beside + 2 * inputs.flush_mm10,
        box.height - half * over + 2 * inputs.flush_mm10,
        shaped,
        _family(inputs, column if inputs.direction is Direction.UPRIGHT else row),
    )


def _meets(region: plane.Region, grid: Grid, place: Place) -> bool:
    return any(plane.meet(region, other) for other in grid.get(place, ()))


def _pieces(panels: tuple[Panel, ...], inputs: Lining, spec: MaterialSpec) -> tuple[Piece, ...]:
    sorts: dict[tuple[int, int, bool, str], list[int]] = {}
    families = Counter(panel.family for panel in panels)
    for number, panel in enumerate(panels, start=1):
        family = panel.family if families[panel.family] > 1 else ""
        sorts.setdefault((panel.wide_mm10, panel.high_mm10, panel.shaped, family), []).append(number)
    upright = inputs.direction is Direction.UPRIGHT
    grain = Grain.ALONG_LENGTH if spec.has_grain or inputs.landing is Landing.GROOVE else Grain.ANY
    return tuple(
        Piece(
            material_key=inputs.material_key,
            length_mm10=high if upright else wide,
            width_mm10=wide if upright else high,
            quantity=len(numbers),
            grain=grain,
            label=f"panel {', '.join(map(str, numbers))}{', cut to shape' if shaped else ''}",
            family=family,
        )
        for (wide, high, shaped, family), numbers in sorts.items()
    )


def _steps(
    panels: tuple[Panel, ...],
    *,
    across: tuple[int, ...],
    up: tuple[int, ...],
    grooves: tuple[int, ...],
    inputs: Lining,
    spec: MaterialSpec,
    catalogue: Catalogue,
) -> tuple[Step, ...]:
    wide, high = _sheet_size(inputs, spec)
    reach = f"{catalogue.figure(wide)} across × {catalogue.figure(high)} up"
    steps = [Step(f"One sheet of {spec.name} reaches", reach, f"length {inputs.direction}")]
    for name, joints in (("Upright joints", across), ("Level joints", up)):
        if joints:
            places = ", ".join(catalogue.figure(place) for place in joints)
            landing = _landing_of(inputs, level=joints is up)
            steps.append(Step(f"{name} at", places, f"falling {_landing_words(landing)}"))
    steps += _groove_steps(inputs, (across, up), grooves, catalogue) if grooves else []
    sizes = f"{counted(len(panels), 'panel')}, {sum(panel.shaped for panel in panels)} of them cut to shape"
    left_on = (
        f"{catalogue.show(inputs.flush_mm10)} left on every edge" if inputs.flush_mm10 else "cut to size"
    )
    gap = f", {catalogue.show(inputs.gap_mm10)} between sheets" if inputs.gap_mm10 else ""
    return (*steps, Step("Panels", sizes, f"{left_on}{gap}"))


def _landing_of(inputs: Lining, *, level: bool) -> Landing:
    """What a joint that way was made to fall on: upright ones alone are hidden, those along alone grooves."""
    free = inputs.landing is Landing.GROOVE and not _along(inputs, level=level)
    hidden = inputs.landing is Landing.HIDDEN and level
    return Landing.ANYWHERE if free or hidden else inputs.landing


def _grooves(measured: Measured, inputs: Lining) -> tuple[int, ...]:
    """Where grooves run as made, from the left or, where they run level, from the bottom."""
    if not _grooved(inputs) or inputs.pitch_mm10 <= 0:
        return ()
    if inputs.direction is Direction.LEVEL:
        return _lines(measured.box.top, inputs)
    return _as_made(_lines(measured.box.right, inputs), inputs, measured)


def _groove_steps(
    inputs: Lining,
    joints: tuple[tuple[int, ...], tuple[int, ...]],
    grooves: tuple[int, ...],
    catalogue: Catalogue,
) -> list[Step]:
    """What keeps the grooves in line where sheets meet, side by side and end to end."""
    upright = inputs.direction is Direction.UPRIGHT
    beside, ends = joints if upright else reversed(joints)
    first = grooves[0]
    steps = []
    if beside:
        spaces = ", ".join(str((place - first) // inputs.pitch_mm10) for place in beside)
        steps.append(
            Step(
                "Grooves line up side by side: rip each sheet along the middle of a groove",
                f"grooves {spaces} on from the first, at {catalogue.show(first)}",
                f"{catalogue.show(inputs.pitch_mm10)} centres",
            )
        )
    if ends:
        each = "column" if upright else "row"
        steps.append(
            Step(
                f"Grooves run on end to end: cut the panels of a {each} from one strip, in order",
                "one after the other",
                "one family in the cutting plan",
            )
        )
    return steps


def _landing_words(landing: Landing) -> str:
    return {
        Landing.ANYWHERE: "so that panels are equal",
        Landing.BATTEN: "on a batten",
        Landing.GROOVE: "on a groove",
        Landing.HIDDEN: "where a fitting hides it",
    }[landing]


def _work(panels: tuple[Panel, ...], inputs: Lining, measured: Measured) -> tuple[Work, ...]:
    cut_outs = Decimal(len(inputs.outline.openings))
    scribed = rounded(metres(measured.perimeter_mm10), 2) if inputs.flush_mm10 else Decimal(0)
    found = (
        Work(Operation.LINE_SHEET, measured.net_m2, Unit.SQUARE_METRE),
        Work(Operation.MAKE_PART, Decimal(len(panels)), Unit.EACH),
        Work(Operation.CUT_OUT, cut_outs, Unit.EACH),
        Work(Operation.SCRIBE, scribed, Unit.METRE),
    )
    return tuple(work for work in found if work.amount)


def _cautions(inputs: Lining, across: tuple[int, ...], up: tuple[int, ...]) -> tuple[str, ...]:
    if (across or up) and not inputs.gap_mm10:
        return (
            "Sheets meet without a gap. Makers of structural panels usually ask for about 3 mm at edges.",
        )
    return ()


def _line_paths(
    measured: Measured, inputs: Lining, across: tuple[int, ...], up: tuple[int, ...]
) -> list[Path]:
    """Grooves as they run over the net shape; the battens, or hidden places, that joints could fall on."""
    grooves = _grooves(measured, inputs)
    if grooves:
        upright = inputs.direction is Direction.UPRIGHT
        return lines_over(measured, Stroke.GROOVE, grooves if upright else (), () if upright else grooves)
    box = measured.box
    if inputs.landing is Landing.BATTEN and inputs.pitch_mm10 > 0:
        beside = _as_made(_lines(box.right, inputs), inputs, measured) if across else ()
        return lines_over(measured, Stroke.BATTEN, beside, _lines(box.top, inputs) if up else ())
    hidden = inputs.hidden_mm10 if inputs.landing is Landing.HIDDEN else ()
    inside = tuple(place for place in hidden if 0 < place < box.right)
    return lines_over(measured, Stroke.CENTRE, _as_made(inside, inputs, measured), ())
