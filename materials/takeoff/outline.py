"""What is the outline's area, net of its openings, and what region is there to cover?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff import plane
from materials.takeoff.drawing import Dimension, Path, Stroke
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import M2_PER_MM10_SQUARED, plain, rounded
from materials.takeoff.result import Step
from materials.takeoff.shapes import (
    ArcTop,
    AreaRule,
    OffsetTable,
    Polygon,
    Rectangle,
    Shape,
    arc_of,
    corners_of,
    polygon_area,
    simpson,
    trapezoidal,
)
from materials.takeoff.specs import Catalogue

AREA_PLACES = 8
"""Square metres to the tenth of a millimetre squared: rectangles stay exact."""


@dataclass(frozen=True)
class Opening:
    """A hole in the outline by its own bottom left corner; what is cut is larger by the clearance all round.

    A round one is measured by the square that just holds it: `width_mm10` is its diameter.
    """

    name: str
    left_mm10: int
    bottom_mm10: int
    width_mm10: int
    height_mm10: int
    clearance_mm10: int = 0
    is_round: bool = False


@dataclass(frozen=True)
class Outline:
    """A shape with its openings, seen from the front; `other_hand` turns the whole left for right.

    Whatever else is measured from the left (hidden places, fittings, the start of upright boards) turns too.
    """

    shape: Shape
    openings: tuple[Opening, ...] = ()
    other_hand: bool = False


@dataclass(frozen=True)
class Measured:
    """An outline once measured: the whole and the net region (tenths of a millimetre), areas, working."""

    whole: plane.Region
    net: plane.Region
    cut_outs: tuple[tuple[Opening, plane.Region], ...]
    box: plane.Box
    gross_m2: Decimal
    net_m2: Decimal
    perimeter_mm10: int
    steps: tuple[Step, ...]


def places_as_made(places: Iterable[int], outline: Outline, width_mm10: int) -> tuple[int, ...]:
    """Places measured from the left, where they lie once made: the other hand turns them over with the whole.

    >>> places_as_made((900, 1_500), Outline(Rectangle(2_000, 2_000), other_hand=True), 2_000)
    (500, 1100)
    """
    if not outline.other_hand:
        return tuple(places)
    return tuple(sorted(width_mm10 - place for place in places))


def measure(outline: Outline, catalogue: Catalogue) -> Measured:
    """Measure an outline; raises `MeasureAgain` where it crosses itself or an opening does not fit in it."""
    corners = corners_of(outline.shape)
    _refuse_crossing(outline.shape, corners)
    whole = plane.polygon(corners)
    box = plane.bounds(whole)
    holes = [(opening, _hole(opening, whole)) for opening in outline.openings]
    _refuse_overlaps(holes)
    if outline.other_hand:
        whole = plane.mirrored(whole, box.right)
        holes = [(opening, plane.mirrored(hole, box.right)) for opening, hole in holes]
    net = plane.less(whole, [hole for _, hole in holes]) if holes else whole
    gross_m2, area_step = _area(outline.shape, corners, catalogue)
    net_m2, hole_steps = _take_out(gross_m2, holes, whole, net, catalogue)
    return Measured(
        whole=whole,
        net=net,
        cut_outs=tuple(holes),
        box=box,
        gross_m2=gross_m2,
        net_m2=net_m2,
        perimeter_mm10=round(plane.length(whole)),
        steps=(*_hand_step(outline), area_step, *hole_steps),
    )


def _refuse_crossing(shape: Shape, corners: tuple[tuple[int, int], ...]) -> None:
    crossed = plane.crossing_sides(corners) if isinstance(shape, Polygon) else None
    if crossed is None:
        return
    one, other = crossed
    raise MeasureAgain(
        f"The outline crosses itself: side {one} (from corner {one}) meets side {other} (from corner "
        f"{other}). Measure corners {one} and {other} again, going round the shape in order.",
        "corners",
    )


def _hole(opening: Opening, whole: plane.Region) -> plane.Region:
    name = opening.name or "The opening"
    if opening.width_mm10 <= 0 or (opening.height_mm10 <= 0 and not opening.is_round):
        raise MeasureAgain(f"{name} has no size. Measure its width and height again.", "openings")
    high = opening.width_mm10 if opening.is_round else opening.height_mm10
    left, bottom, wide, clear = (
        opening.left_mm10,
        opening.bottom_mm10,
        opening.width_mm10,
        opening.clearance_mm10,
    )
    if opening.is_round:
        itself = plane.disc(left, bottom, wide)
        cut = plane.disc(left - clear, bottom - clear, wide + 2 * clear)
    else:
        itself = plane.box(left, bottom, left + wide, bottom + high)
        cut = plane.box(left - clear, bottom - clear, left + wide + clear, bottom + high + clear)
    if not plane.holds(whole, itself):
        raise MeasureAgain(
            f"{name} lies partly outside the outline. Measure again how far its left edge is from the left "
            "and its bottom edge from the bottom.",
            "openings",
        )
    return cut


def _refuse_overlaps(holes: list[tuple[Opening, plane.Region]]) -> None:
    for number, (one, one_hole) in enumerate(holes):
        for other, other_hole in holes[number + 1 :]:
            if plane.overlap(one_hole, other_hole):
                raise MeasureAgain(
                    f"{one.name or 'An opening'} and {other.name or 'another'} run into each other with "
                    "their clearance. Measure both again, or take them off as one opening.",
                    "openings",
                )


def _hand_step(outline: Outline) -> tuple[Step, ...]:
    return (
        (Step("Made to the other hand: left is right", rule="mirrored copy"),) if outline.other_hand else ()
    )


def _area(shape: Shape, corners: tuple[tuple[int, int], ...], catalogue: Catalogue) -> tuple[Decimal, Step]:
    match shape:
        case Rectangle():
            sides = f"{catalogue.figure(shape.width_mm10)} × {catalogue.figure(shape.height_mm10)}"
            area = M2_PER_MM10_SQUARED * shape.width_mm10 * shape.height_mm10
            return _with_step(area, f"Rectangle {_unit(catalogue)}", sides, "width × height")
        case Polygon():
            area = M2_PER_MM10_SQUARED * polygon_area(corners)
            words = f"Outline of {len(corners)} corners"
            return _with_step(area, words, "", "corner (shoelace) rule")
        case ArcTop():
            return _arc_area(shape, catalogue)
        case OffsetTable():
            return _table_area(shape, catalogue)


def _unit(catalogue: Catalogue) -> str:
    return "in mm" if catalogue.system == "metric" else "in feet and inches"


def _with_step(area_m2: Decimal, words: str, sums: str, rule: str) -> tuple[Decimal, Step]:
    kept = rounded(area_m2, AREA_PLACES)
    figures = f"{sums} = {plain(kept, 4)} m²" if sums else f"{plain(kept, 4)} m²"
    return kept, Step(words, figures, rule)


def _arc_area(shape: ArcTop, catalogue: Catalogue) -> tuple[Decimal, Step]:
    arc = arc_of(shape.chord_mm10, shape.rise_mm10)
    below = M2_PER_MM10_SQUARED * shape.chord_mm10 * shape.sides_mm10
    segment = rounded(Decimal(repr(arc.segment_area)) * M2_PER_MM10_SQUARED, AREA_PLACES)
    words = (
        f"Arc on a chord of {catalogue.show(shape.chord_mm10)} rising {catalogue.show(shape.rise_mm10)}: "
        f"radius {catalogue.show(round(arc.radius))}"
    )
    sums = f"{plain(segment, 4)} above" + (f" + {plain(below, 4)} below" if below else "")
    return _with_step(segment + below, words, sums, "R = c²/8s + s/2; segment R²/2 (θ − sin θ)")


def _table_area(shape: OffsetTable, catalogue: Catalogue) -> tuple[Decimal, Step]:
    along = [station.along_mm10 for station in shape.stations]
    widths = [station.width_mm10 for station in shape.stations]
    by_simpson = shape.area_rule is AreaRule.SIMPSON
    area = simpson(along, widths) if by_simpson else trapezoidal(along, widths)
    exact = Decimal(area.numerator) / Decimal(area.denominator) * M2_PER_MM10_SQUARED
    words = (
        f"{len(along)} widths off a base line of {catalogue.show(along[-1] - along[0])}, "
        f"from {catalogue.show(widths[0])} to {catalogue.show(widths[-1])}"
    )
    rule = "Simpson's rule" if by_simpson else "trapezoidal rule"
    if by_simpson and len(along) % 2 == 0:
        rule += ", last strip as a trapezoid"
    return _with_step(exact, words, "", rule)


def _take_out(
    gross_m2: Decimal,
    holes: list[tuple[Opening, plane.Region]],
    whole: plane.Region,
    net: plane.Region,
    catalogue: Catalogue,
) -> tuple[Decimal, tuple[Step, ...]]:
    if not holes:
        return gross_m2, ()
    steps = [_opening_step(opening, plane.common(hole, whole), catalogue) for opening, hole in holes]
    taken = rounded(Decimal(repr(plane.area(whole) - plane.area(net))) * M2_PER_MM10_SQUARED, AREA_PLACES)
    net_m2 = gross_m2 - taken
    if net_m2 <= 0:
        raise MeasureAgain("The openings leave nothing to cover. Measure them again.", "openings")
    sums = f"{plain(gross_m2, 4)} − {plain(taken, 4)} = {plain(net_m2, 4)} m²"
    return net_m2, (*steps, Step("Left to cover", sums, "whole less openings"))


def _opening_step(opening: Opening, hole: plane.Region, catalogue: Catalogue) -> Step:
    high = opening.width_mm10 if opening.is_round else opening.height_mm10
    size = f"{catalogue.figure(opening.width_mm10)} × {catalogue.figure(high)}"
    size = f"⌀ {catalogue.figure(opening.width_mm10)}" if opening.is_round else size
    clear = f", {catalogue.show(opening.clearance_mm10)} clear all round" if opening.clearance_mm10 else ""
    taken = rounded(Decimal(repr(plane.area(hole))) * M2_PER_MM10_SQUARED, 4)
    return Step(
        f"{opening.name or 'Opening'} {size}{clear}", f"− {plain(taken, 4)} m²", "opening + 2 × clearance"
    )


def outline_paths(measured: Measured) -> tuple[Path, ...]:
    """The outline and its openings as lines of a drawing."""
    edge = tuple(Path(ring, Stroke.OUTLINE) for ring in plane.rings(measured.whole))
    holes = tuple(Path(ring, Stroke.OPENING) for _, hole in measured.cut_outs for ring in plane.rings(hole))
    return edge + holes


def size_dimensions(measured: Measured, catalogue: Catalogue, row: int = 0) -> tuple[Dimension, ...]:
    """The overall width below and the overall height at the left."""
    wide, high = measured.box.right, measured.box.top
    return (
        Dimension(0, wide, catalogue.figure(wide), across=True, row=row),
        Dimension(0, high, catalogue.figure(high), across=False, row=row),
    )
