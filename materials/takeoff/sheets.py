"""Which parts come out of sheet, with what left on for trimming and scribing?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff.drawing import Drawing, Label, Path, Stroke
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import M2_PER_MM10_SQUARED, counted, metres, plain, rounded
from materials.takeoff.mass import density_step, sheet_mass
from materials.takeoff.result import Grain, Operation, Piece, Result, Step, Unit, Work
from materials.takeoff.specs import Catalogue, MaterialSpec

RULE = "sheet parts 2"
GAPS_A_LENGTH = 10
ROWS_SHAPE = 1.3


@dataclass(frozen=True)
class Part:
    """Sheet parts all alike, by their finished size; `scribe_mm10` is left on one long edge, which is the
    longer whichever way the size is written.

    Parts with the same word in `runs_on` show one pattern across their joints: grooves, or a figure.
    """

    name: str
    length_mm10: int
    width_mm10: int
    quantity: int = 1
    grain: Grain = Grain.ANY
    scribe_mm10: int = 0
    runs_on: str = ""


@dataclass(frozen=True)
class SheetParts:
    """Parts from one sheet material; `flush_mm10` is left on every edge to be trimmed off flush later."""

    material_key: str
    parts: tuple[Part, ...]
    flush_mm10: int = 0


def take_off(inputs: SheetParts, catalogue: Catalogue) -> Result:
    """The parts to cut, oversize by their allowances; raises `MeasureAgain` for a part no sheet can give."""
    spec = catalogue.spec(inputs.material_key)
    if not inputs.parts:
        raise MeasureAgain("Write at least one part: its length, width and how many.", "parts")
    pieces = tuple(_piece(part, inputs, spec, catalogue) for part in inputs.parts)
    area_m2 = rounded(sum((_area_m2(part) for part in inputs.parts), Decimal(0)), 6)
    mass_kg = sheet_mass(area_m2, spec)
    count = sum(part.quantity for part in inputs.parts)
    scribed = (metres(_long_edge(part)) * part.quantity for part in inputs.parts if part.scribe_mm10)
    scribed_m = sum(scribed, Decimal(0))
    work = (
        Work(Operation.MAKE_PART, Decimal(count), Unit.EACH),
        Work(Operation.SCRIBE, scribed_m, Unit.METRE),
    )
    return Result(
        rule=RULE,
        headline=f"{counted(count, 'part')}, {plain(area_m2, 2)} m²",
        steps=(*_steps(inputs, area_m2, catalogue), *density_step(spec, area_m2, mass_kg, catalogue)),
        pieces=pieces,
        work=tuple(line for line in work if line.amount),
        mass_kg=mass_kg,
        cautions=trim_cautions(pieces, spec, catalogue)
        if spec.stock
        else (f"{spec.name} has no sheet size in the catalogue: parts were not checked.",),
        drawing=_drawing(inputs),
        area_m2=area_m2,
    )


def _area_m2(part: Part) -> Decimal:
    return M2_PER_MM10_SQUARED * part.length_mm10 * part.width_mm10 * part.quantity


def _long_edge(part: Part) -> int:
    return max(part.length_mm10, part.width_mm10)


def cut_size(part: Part, flush_mm10: int) -> tuple[int, int]:
    """Length and width to cut: what is trimmed flush on every edge, and across the long edge the scribe.

    >>> cut_size(Part("End panel", 3_000, 20_000, scribe_mm10=200), 0)
    (3200, 20000)
    """
    length, width = part.length_mm10 + 2 * flush_mm10, part.width_mm10 + 2 * flush_mm10
    if part.width_mm10 > part.length_mm10:
        return length + part.scribe_mm10, width
    return length, width + part.scribe_mm10


def _piece(part: Part, inputs: SheetParts, spec: MaterialSpec, catalogue: Catalogue) -> Piece:
    if part.length_mm10 <= 0 or part.width_mm10 <= 0 or part.quantity <= 0:
        raise MeasureAgain(f"{part.name or 'A part'} has no size or no number. Measure it again.", "parts")
    length, width = cut_size(part, inputs.flush_mm10)
    refuse_oversize(part.name or "A part", (length, width), part.grain, spec, catalogue)
    return Piece(inputs.material_key, length, width, part.quantity, part.grain, part.name, part.runs_on)


def refuse_oversize(
    name: str, size: tuple[int, int], grain: Grain, spec: MaterialSpec, catalogue: Catalogue
) -> None:
    """Raise `MeasureAgain` where no stock sheet can give a part of that size with that grain."""
    if not spec.stock or any(_fits(size, grain, (s.length_mm10, s.width_mm10)) for s in spec.stock):
        return
    biggest = max(spec.stock, key=lambda sheet: sheet.length_mm10 * sheet.width_mm10)
    turned = _fits(size, Grain.ANY, (biggest.length_mm10, biggest.width_mm10))
    hint = "Its grain runs the wrong way for that" if turned else "Measure it again, or make it of two"
    asked = f"{catalogue.show(size[0])} × {catalogue.show(size[1])}"
    largest = f"{catalogue.show(biggest.length_mm10)} × {catalogue.show(biggest.width_mm10)}"
    raise MeasureAgain(
        f"{name}, {asked} with its allowances, is bigger than every sheet of {spec.name} "
        f"(largest {largest}). {hint}.",
        "parts",
    )


def trim_cautions(pieces: Sequence[Piece], spec: MaterialSpec, catalogue: Catalogue) -> tuple[str, ...]:
    """Which pieces a sheet gives only as it comes, and not once the saw has trimmed its edges."""
    trim, show = catalogue.trim_mm10, catalogue.show
    left = [(sheet.length_mm10 - 2 * trim, sheet.width_mm10 - 2 * trim) for sheet in spec.stock]
    untrimmed = [
        piece
        for piece in pieces
        if not any(_fits((piece.length_mm10, piece.width_mm10), piece.grain, sheet) for sheet in left)
    ]
    if not trim or not untrimmed:
        return ()
    names = "; ".join(piece.label or "a part" for piece in untrimmed)
    length, width = max(left, key=lambda sheet: sheet[0] * sheet[1])
    return (
        f"Only an untrimmed sheet is large enough for {names}: {show(trim)} off each edge leaves "
        f"{catalogue.figure(length)} × {show(width)}. Plan it with nothing trimmed off, or make it smaller.",
    )


def _fits(size: tuple[int, int], grain: Grain, sheet: tuple[int, int]) -> bool:
    straight = size[0] <= sheet[0] and size[1] <= sheet[1]
    turned = size[1] <= sheet[0] and size[0] <= sheet[1]
    return {
        Grain.ALONG_LENGTH: straight,
        Grain.ALONG_WIDTH: turned,
        Grain.ANY: straight or turned,
    }[grain]


def _steps(inputs: SheetParts, area_m2: Decimal, catalogue: Catalogue) -> tuple[Step, ...]:
    lines = [_part_step(number, part, inputs, catalogue) for number, part in enumerate(inputs.parts, start=1)]
    return (*lines, Step("Area of the finished parts", f"{plain(area_m2, 4)} m²", "length × width × number"))


def _part_step(number: int, part: Part, inputs: SheetParts, catalogue: Catalogue) -> Step:
    figure, flush = catalogue.figure, inputs.flush_mm10
    size = f"{figure(part.length_mm10)} × {figure(part.width_mm10)}"
    words = f"{number}. {part.name or 'Part'}: {part.quantity} of {size}"
    if not flush and not part.scribe_mm10:
        return Step(words, "cut to size")
    length, width = cut_size(part, flush)
    scribe = f" + {figure(part.scribe_mm10)} to scribe on one long edge" if part.scribe_mm10 else ""
    left_on = f"{figure(flush)} on every edge to trim flush" if flush else "nothing to trim"
    return Step(words, f"cut {figure(length)} × {figure(width)}", f"{left_on}{scribe}")


def _drawing(inputs: SheetParts) -> Drawing:
    """Each part once at its finished size, by the number that it has in the working, in rows about square."""
    gap = max(part.length_mm10 for part in inputs.parts) // GAPS_A_LENGTH
    room = sum((part.length_mm10 + gap) * (part.width_mm10 + gap) for part in inputs.parts)
    widest = max(*(part.length_mm10 for part in inputs.parts), round(ROWS_SHAPE * math.sqrt(room)))
    paths: list[Path] = []
    labels: list[Label] = []
    left = bottom = high = 0
    for number, part in enumerate(inputs.parts, start=1):
        if left and left + part.length_mm10 > widest:
            left, bottom, high = 0, bottom + high + gap, 0
        right, top = left + part.length_mm10, bottom + part.width_mm10
        paths.append(Path(((left, bottom), (right, bottom), (right, top), (left, top)), Stroke.OUTLINE))
        labels.append(Label(((left + right) // 2, (bottom + top) // 2), str(number)))
        left, high = right + gap, max(high, part.width_mm10)
    width = max(x for path in paths for x, _ in path.spots)
    return Drawing(width, bottom + high, tuple(paths), tuple(labels), title="Sheet parts, by number")
