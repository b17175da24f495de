"""How long is each length of trim cut, mitres and scribes allowed for?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted, metres, plain
from materials.takeoff.mass import board_mass
from materials.takeoff.result import Grain, Operation, Piece, Result, Step, Unit, Work
from materials.takeoff.specs import Catalogue, MaterialSpec

RULE = "trim run 1"
LEAST_PIECE_MM10 = 3_000


class End(StrEnum):
    """How an end of a length of trim is cut."""

    SQUARE = "square"
    MITRE = "mitre"
    SCRIBE = "scribe"


class Taken(StrEnum):
    """Where a mitred length was measured: over the long points or between the short ones."""

    LONG_POINT = "long_point"
    SHORT_POINT = "short_point"


@dataclass(frozen=True)
class Run:
    """Lengths all alike, and how each end is cut."""

    name: str
    length_mm10: int
    quantity: int = 1
    left: End = End.SQUARE
    right: End = End.SQUARE


@dataclass(frozen=True)
class Trim:
    """Lengths of one moulding or trim; a scribed end is left longer by `scribe_mm10`."""

    material_key: str
    runs: tuple[Run, ...]
    taken: Taken = Taken.LONG_POINT
    scribe_mm10: int = 100


def take_off(inputs: Trim, catalogue: Catalogue) -> Result:
    """The lengths to cut, by long point; raises `MeasureAgain` for a run of nothing."""
    spec = catalogue.spec(inputs.material_key)
    if not inputs.runs:
        raise MeasureAgain("Write at least one run: its length and how many.", "runs")
    cuts = [(run, cut_length(run, inputs, spec)) for run in inputs.runs]
    pieces = tuple(piece for run, length in cuts for piece in _pieces(run, length, inputs, spec))
    joints = sum(piece.quantity for piece in pieces) - sum(run.quantity for run in inputs.runs)
    length_m = sum((metres(piece.length_mm10) * piece.quantity for piece in pieces), Decimal(0))
    mass_kg = board_mass(length_m, spec)
    return Result(
        rule=RULE,
        headline=f"{counted(sum(piece.quantity for piece in pieces), 'length')}, {plain(length_m, 1)} m",
        steps=_steps(cuts, inputs=inputs, spec=spec, catalogue=catalogue, joints=joints, length_m=length_m),
        pieces=pieces,
        work=_work(inputs, spec, joints),
        mass_kg=mass_kg,
    )


def cut_length(run: Run, inputs: Trim, spec: MaterialSpec) -> int:
    """The length to the long points, scribes left on.

    A mitre at 45° measured to its short point is longer at the other face by the width of the trim.
    """
    if run.length_mm10 <= 0 or run.quantity <= 0:
        raise MeasureAgain(f"{run.name or 'A run'} has no length or no number. Measure it again.", "runs")
    ends = (run.left, run.right)
    mitre = spec.width_mm10 if inputs.taken is Taken.SHORT_POINT else 0
    return run.length_mm10 + ends.count(End.MITRE) * mitre + ends.count(End.SCRIBE) * inputs.scribe_mm10


def _pieces(run: Run, length: int, inputs: Trim, spec: MaterialSpec) -> list[Piece]:
    lengths = split_to_stock(length, spec.longest_mm10, spec.thickness_mm10)
    return [
        Piece(
            inputs.material_key,
            part,
            0,
            run.quantity,
            Grain.ALONG_LENGTH,
            _part_name(run.name, n, len(lengths)),
        )
        for n, part in enumerate(lengths, start=1)
    ]


def _part_name(name: str, number: int, of: int) -> str:
    return name if of == 1 else f"{name} {number} of {of}"


def split_to_stock(length_mm10: int, longest_mm10: int, scarf_mm10: int) -> tuple[int, ...]:
    """Lengths that scarf together to one: whole stock first, the last no shorter than is worth fixing.

    Each scarf at 45° takes the thickness more. Where no stock length is known nothing is split.

    >>> split_to_stock(50000, 24000, 200)
    (24000, 23400, 3000)
    """
    if not longest_mm10 or length_mm10 <= longest_mm10:
        return (length_mm10,)
    if longest_mm10 <= LEAST_PIECE_MM10 + scarf_mm10:
        raise MeasureAgain("The stock is too short to be scarfed. Choose longer lengths.", "material_key")
    reach = longest_mm10 - scarf_mm10
    count = -(-(length_mm10 - scarf_mm10) // reach)
    lengths = [longest_mm10] * (count - 1)
    last = length_mm10 - (count - 1) * reach
    short = max(0, LEAST_PIECE_MM10 - last)
    lengths[-1] -= short
    return (*lengths, last + short)


def _steps(
    cuts: list[tuple[Run, int]],
    *,
    inputs: Trim,
    spec: MaterialSpec,
    catalogue: Catalogue,
    joints: int,
    length_m: Decimal,
) -> tuple[Step, ...]:
    measured = "short point" if inputs.taken is Taken.SHORT_POINT else "long point"
    steps = [
        Step(
            f"{run.name or 'Run'}: {run.quantity} of {catalogue.figure(run.length_mm10)}, "
            f"{run.left} and {run.right}",
            f"cut {catalogue.show(length)}",
            f"measured to the {measured}",
        )
        for run, length in cuts
    ]
    if joints:
        longest, more = catalogue.show(spec.longest_mm10), catalogue.show(spec.thickness_mm10)
        steps.append(
            Step("Scarfs along the runs", str(joints), f"longest stock {longest}; {more} more a scarf")
        )
    return (*steps, Step("All lengths end to end", f"{plain(length_m, 2)} m"))


def _work(inputs: Trim, spec: MaterialSpec, joints: int) -> tuple[Work, ...]:
    ends = [end for run in inputs.runs for end in (run.left, run.right) for _ in range(run.quantity)]
    length_m = sum((metres(run.length_mm10) * run.quantity for run in inputs.runs), Decimal(0))
    found = (
        Work(Operation.TRIM, length_m, Unit.METRE),
        Work(Operation.MITRE, Decimal(ends.count(End.MITRE)), Unit.EACH),
        Work(Operation.SCRIBE, metres(spec.width_mm10) * ends.count(End.SCRIBE), Unit.METRE),
        Work(Operation.END_JOINT, Decimal(joints), Unit.EACH),
    )
    return tuple(work for work in found if work.amount)
