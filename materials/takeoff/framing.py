"""How many battens, ribs or studs at centres, how long is each, and what goes between them?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from materials.takeoff import plane
from materials.takeoff.cladding import Direction
from materials.takeoff.drawing import Dimension, Drawing, Path, Spot, Stroke
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted, metres, plain
from materials.takeoff.mass import added, board_mass
from materials.takeoff.outline import (
    Measured,
    Outline,
    measure,
    outline_paths,
    places_as_made,
    size_dimensions,
)
from materials.takeoff.result import Grain, Mark, Operation, Piece, Result, Step, Unit, Work, marks_at
from materials.takeoff.specs import Catalogue, MaterialSpec

RULE = "framing 2"
MOST_MEMBERS = 1_000
LEAST_SIDE_MM10 = 50
"""A member within 5 mm of an opening's edge serves as its side: nobody fits a strip so thin."""


@dataclass(frozen=True)
class Template:
    """Pieces made alike from a template: "cut 24 like this"."""

    name: str
    length_mm10: int
    quantity: int


@dataclass(frozen=True)
class Packing:
    """Packing pieces behind every member of a crooked wall, at centres along it and one at each end."""

    material_key: str
    length_mm10: int
    centres_mm10: int


@dataclass(frozen=True)
class Framing:
    """Members at centres over an outline, the first and last flush with its edges.

    `face_mm10` is the member's width as seen from the front (0: the width in the catalogue). `plates` puts a
    member along each end of the others. `frame_openings` doubles the edges of every opening.
    """

    outline: Outline
    material_key: str
    centres_mm10: int
    direction: Direction = Direction.UPRIGHT
    face_mm10: int = 0
    plates: bool = False
    noggin_rows: int = 0
    frame_openings: bool = False
    templates: tuple[Template, ...] = ()
    packings: tuple[Packing, ...] = ()


@dataclass(frozen=True)
class Member:
    """One member in its place: what it is, its region, the length to cut."""

    name: str
    region: plane.Region
    length_mm10: int


def take_off(inputs: Framing, catalogue: Catalogue) -> Result:
    """Members, plates, noggins and template pieces; raises `MeasureAgain` where there is nothing to build."""
    spec = catalogue.spec(inputs.material_key)
    face = inputs.face_mm10 or spec.width_mm10
    _check(inputs, spec, face)
    measured = measure(inputs.outline, catalogue)
    if max(measured.box.right, measured.box.top) > MOST_MEMBERS * inputs.centres_mm10:
        raise MeasureAgain(
            f"That is more than {MOST_MEMBERS} members. Measure the outline and the centres again.", "centres"
        )
    members = _members(inputs, measured, face)
    pieces = _pieces(members, inputs)
    length_m = sum((metres(piece.length_mm10) * piece.quantity for piece in pieces), Decimal(0))
    packed = [_packed(packing, members, catalogue) for packing in inputs.packings]
    mass_kg = added([board_mass(length_m, spec), *(mass for _, _, mass in packed)])
    count = sum(piece.quantity for piece in pieces)
    return Result(
        rule=RULE,
        headline=f"{counted(count, 'piece')}, {plain(length_m, 1)} m",
        steps=_steps(
            inputs,
            measured=measured,
            members=members,
            face=face,
            catalogue=catalogue,
            length_m=length_m,
            mass_kg=mass_kg,
            packed=[step for _, step, _ in packed],
        ),
        pieces=(*pieces, *(piece for piece, _, _ in packed)),
        work=(Work(Operation.FRAME, length_m, Unit.METRE),),
        mass_kg=mass_kg,
        cautions=_cautions(pieces, spec, catalogue),
        drawing=_drawing(measured, members, inputs, face, catalogue),
        centre_mm10=plane.centre(measured.net),
        marks=_marks(inputs, measured, face),
        datum="the left edge" if inputs.direction is Direction.UPRIGHT else "the bottom edge",
    )


def _marks(inputs: Framing, measured: Measured, face: int) -> tuple[Mark, ...]:
    faces = _faces(inputs, measured, face)
    return marks_at((f"member {number}, middle", place + face // 2) for number, place in enumerate(faces, 1))


def _faces(inputs: Framing, measured: Measured, face: int) -> tuple[int, ...]:
    """The near face of each member, as made."""
    if inputs.direction is Direction.LEVEL:
        return member_places(measured.box.top, inputs.centres_mm10, face)
    run = measured.box.right
    places = member_places(run, inputs.centres_mm10, face)
    return places_as_made(places, inputs.outline, max(run - face, 0))


def _check(inputs: Framing, spec: MaterialSpec, face: int) -> None:
    if inputs.centres_mm10 <= 0:
        raise MeasureAgain("How far apart are the members? Measure from centre to centre.", "centres")
    if face <= 0:
        raise MeasureAgain(f"{spec.name} has no width in the catalogue. Measure its face.", "face")
    if inputs.centres_mm10 < 2 * face:
        raise MeasureAgain("The centres are closer than two members are wide. Measure them again.", "centres")
    if inputs.noggin_rows < 0:
        raise MeasureAgain("Rows of noggins can't be fewer than none.", "noggin_rows")


def edge_count(run_mm10: int, centres_mm10: int) -> int:
    """How many stand along a run at no more than those centres, one at each end.

    >>> edge_count(24000, 3000), edge_count(24500, 3000)
    (9, 10)
    """
    return -(-run_mm10 // centres_mm10) + 1


def member_places(run_mm10: int, centres_mm10: int, face_mm10: int) -> tuple[int, ...]:
    """The near face of each member along the run: at centres from the first, the last flush with the far end.

    Where the last two would lie over each other, the last but one goes midway between its neighbours.

    >>> member_places(24_000, 6_000, 380)
    (0, 6000, 12000, 18000, 23620)
    """
    last = run_mm10 - face_mm10
    if last < face_mm10:
        return (0,) if last <= 0 else (0, last)
    places = [*range(0, last, centres_mm10), last]
    if len(places) > 2 and places[-1] - places[-2] < face_mm10:
        places[-2] = (places[-3] + last) // 2
    return tuple(places)


def _members(inputs: Framing, measured: Measured, face: int) -> tuple[Member, ...]:
    upright = inputs.direction is Direction.UPRIGHT
    region = measured.net if upright else plane.turned(measured.net)
    whole = measured.whole if upright else plane.turned(measured.whole)
    box = plane.bounds(whole)
    lying = _plates(whole, box, face) if inputs.plates else []
    if inputs.frame_openings:
        lying += _heads_and_sills(measured, region, face, upright=upright)
    free = plane.less(region, [member.region for member in lying]) if lying else region
    standing = [
        Member("member", part, plane.bounds(part).height)
        for left in _faces(inputs, measured, face)
        for part in plane.parts(plane.common(free, plane.box(left, box.bottom, left + face, box.top)))
    ]
    if inputs.frame_openings:
        standing = _with_opening_sides(measured, free, standing, face, upright=upright)
    return (*lying, *standing, *_noggins(inputs, free, box, standing, face))


def _plates(whole: plane.Region, box: plane.Box, face: int) -> list[Member]:
    """A member along each end of the others; under a curved or sloping edge it lies level at the extreme."""
    lines = (("first plate", box.bottom), ("last plate", box.top - face))
    cuts = [
        (name, plane.common(whole, plane.box(box.left, low, box.right, low + face))) for name, low in lines
    ]
    return [Member(name, part, plane.bounds(part).width) for name, cut in cuts for part in plane.parts(cut)]


def _holes(measured: Measured, *, upright: bool) -> list[tuple[str, plane.Box]]:
    return [
        (opening.name or "opening", plane.bounds(hole if upright else plane.turned(hole)))
        for opening, hole in measured.cut_outs
    ]


def _heads_and_sills(measured: Measured, region: plane.Region, face: int, *, upright: bool) -> list[Member]:
    found: list[Member] = []
    for name, box in _holes(measured, upright=upright):
        for low in (box.bottom - face, box.top):
            cut = plane.common(region, plane.box(box.left - face, low, box.right + face, low + face))
            found += [
                Member(f"{name} head or sill", part, plane.bounds(part).width) for part in plane.parts(cut)
            ]
    return found


def _with_opening_sides(
    measured: Measured, free: plane.Region, standing: Sequence[Member], face: int, *, upright: bool
) -> list[Member]:
    """A side each way besides, ripped where a member leaves less room; none where one stands just there.

    A member that the opening cuts to a strip gives way to the side.
    """
    places = [
        (name, plane.box(left, box.bottom, left + face, box.top))
        for name, box in _holes(measured, upright=upright)
        for left in (box.left - face, box.right)
    ]
    found = [member for member in standing if not _is_strip(member, places, face)]
    clear = plane.less(free, [member.region for member in found])
    for name, place in places:
        left = [part for part in plane.parts(plane.common(clear, place)) if _is_worth_fitting(part)]
        sides = [_side(name, part, face) for part in left]
        clear = plane.less(clear, [side.region for side in sides]) if sides else clear
        found += sides
    return found


def _is_strip(member: Member, places: Sequence[tuple[str, plane.Region]], face: int) -> bool:
    """Whether an opening leaves of a member only a strip, where its own side goes."""
    narrow = plane.bounds(member.region).width < face
    return narrow and any(plane.holds(place, member.region) for _, place in places)


def _is_worth_fitting(region: plane.Region) -> bool:
    return plane.bounds(region).width >= LEAST_SIDE_MM10


def _side(name: str, region: plane.Region, face: int) -> Member:
    box = plane.bounds(region)
    return Member(f"{name} side" + (", ripped" if box.width < face else ""), region, box.height)


def _noggins(
    inputs: Framing, inside: plane.Region, box: plane.Box, standing: Sequence[Member], face: int
) -> list[Member]:
    if not inputs.noggin_rows:
        return []
    free = plane.less(inside, [member.region for member in standing])
    found: list[Member] = []
    for row in range(1, inputs.noggin_rows + 1):
        low = box.height * row // (inputs.noggin_rows + 1) - face // 2
        strip = plane.common(free, plane.box(box.left, low, box.right, low + face))
        found += [Member("noggin", part, plane.bounds(part).width) for part in plane.parts(strip)]
    return found


def _pieces(members: Sequence[Member], inputs: Framing) -> tuple[Piece, ...]:
    sorts = Counter((member.name, member.length_mm10) for member in members)
    for template in inputs.templates:
        if template.length_mm10 <= 0 or template.quantity <= 0:
            raise MeasureAgain(f"{template.name or 'A template'} has no length or no number.", "templates")
        sorts[f"like {template.name}", template.length_mm10] += template.quantity
    ordered = sorted(sorts.items(), key=lambda sort: -sort[0][1])
    return tuple(
        Piece(inputs.material_key, length, 0, count, Grain.ALONG_LENGTH, name)
        for (name, length), count in ordered
    )


def _packed(
    packing: Packing, members: Sequence[Member], catalogue: Catalogue
) -> tuple[Piece, Step, Decimal | None]:
    """The packing pieces of one sort, their working, and what they weigh."""
    spec = catalogue.spec(packing.material_key, "packings")
    if packing.length_mm10 <= 0 or packing.centres_mm10 <= 0:
        raise MeasureAgain("Measure the packing pieces: how long, and at what centres.", "packings")
    backed = [member.length_mm10 for member in members if member.name == "member"]
    if any(length > MOST_MEMBERS * packing.centres_mm10 for length in backed):
        raise MeasureAgain("The packing pieces are too close. Measure their centres again.", "packings")
    count = sum(edge_count(length, packing.centres_mm10) for length in backed)
    piece = Piece(packing.material_key, packing.length_mm10, 0, count, Grain.ANY, "packing")
    figure = catalogue.figure
    sums = f"{counted(len(backed), 'member')} at {figure(packing.centres_mm10)} centres = {count}"
    step = Step(
        f"Packing pieces of {spec.name}, {catalogue.show(packing.length_mm10)} long", sums, "one at each end"
    )
    return piece, step, board_mass(metres(packing.length_mm10) * count, spec)


def _steps(
    inputs: Framing,
    *,
    measured: Measured,
    members: Sequence[Member],
    face: int,
    catalogue: Catalogue,
    length_m: Decimal,
    mass_kg: Decimal | None,
    packed: list[Step],
) -> tuple[Step, ...]:
    run = measured.box.right if inputs.direction is Direction.UPRIGHT else measured.box.top
    count = len(member_places(run, inputs.centres_mm10, face))
    figure = catalogue.figure
    sums = f"({figure(run)} − {figure(face)}) ÷ {figure(inputs.centres_mm10)}, rounded up, + 1 = {count}"
    steps = [*measured.steps, Step("Members along the run", sums, "one at each end")]
    gaps = sorted({member.length_mm10 for member in members if member.name == "noggin"}, reverse=True)
    if gaps:
        lengths = ", ".join(catalogue.figure(gap) for gap in gaps)
        number = sum(member.name == "noggin" for member in members)
        steps.append(Step("Noggins between members", f"{number}, {lengths} long", "centres − face"))
    steps += [
        Step(f"Cut {template.quantity} like {template.name}", catalogue.show(template.length_mm10))
        for template in inputs.templates
    ]
    steps += [*packed, Step("All members end to end", f"{plain(length_m, 2)} m")]
    if mass_kg is not None:
        steps.append(Step("Mass", f"{plain(mass_kg, 1)} kg", "length × section × density"))
    return tuple(steps)


def _cautions(pieces: tuple[Piece, ...], spec: MaterialSpec, catalogue: Catalogue) -> tuple[str, ...]:
    longest = max((piece.length_mm10 for piece in pieces), default=0)
    if spec.longest_mm10 and longest > spec.longest_mm10:
        return (
            f"A piece of {catalogue.show(longest)} is longer than any stock of {spec.name} "
            f"({catalogue.show(spec.longest_mm10)}): splice it, or find longer stock.",
        )
    return ()


def _drawing(
    measured: Measured, members: Sequence[Member], inputs: Framing, face: int, catalogue: Catalogue
) -> Drawing:
    upright = inputs.direction is Direction.UPRIGHT
    paths = [
        Path(tuple(ring) if upright else _stood(ring), Stroke.MEMBER)
        for member in members
        for ring in plane.rings(member.region)
    ]
    middles = [place + face // 2 for place in _faces(inputs, measured, face)]
    between = tuple(Dimension(a, b, catalogue.figure(b - a), across=upright) for a, b in pairwise(middles))
    return Drawing(
        width_mm10=measured.box.right,
        height_mm10=measured.box.top,
        paths=(*paths, *outline_paths(measured)),
        dimensions=(*between, *size_dimensions(measured, catalogue, row=1)),
        title=f"Framing at {catalogue.show(inputs.centres_mm10)} centres",
    )


def _stood(ring: Sequence[Spot]) -> tuple[Spot, ...]:
    return tuple((y, x) for x, y in ring)
