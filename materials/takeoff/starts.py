"""Which start suits a wall: the same cladding set out from each, side by side?"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from materials.takeoff.boards import total_length_m
from materials.takeoff.cladding import Cladding, lay_out, result_of
from materials.takeoff.courses import Start
from materials.takeoff.figures import metres, rounded
from materials.takeoff.result import Result
from materials.takeoff.specs import Catalogue


@dataclass(frozen=True)
class StartCompared:
    """One way to set the courses out, beside the others."""

    start: Start
    moved_half: bool
    courses: int
    first_mm10: int
    last_mm10: int
    pieces: int
    end_joints: int
    cut_m: Decimal
    lost_m2: Decimal
    mass_kg: Decimal | None
    result: Result


def compare_starts(inputs: Cladding, catalogue: Catalogue) -> tuple[StartCompared, ...]:
    """The same cladding set out from each start, for the maker to choose by eye and by waste."""
    return tuple(_compared(replace(inputs, start=start), catalogue) for start in Start)


def _compared(inputs: Cladding, catalogue: Catalogue) -> StartCompared:
    laid = lay_out(inputs, catalogue)
    cut_m = total_length_m(laid.boards.boards)
    result = result_of(laid, catalogue)
    return StartCompared(
        start=inputs.start,
        moved_half=laid.layout.moved_half,
        courses=laid.layout.count,
        first_mm10=laid.layout.first_mm10,
        last_mm10=laid.layout.last_mm10,
        pieces=len(laid.boards.boards),
        end_joints=len(laid.boards.joints),
        cut_m=rounded(cut_m, 2),
        lost_m2=rounded(cut_m * metres(laid.spec.cover_mm10) - laid.measured.net_m2, 3),
        mass_kg=result.mass_kg,
        result=result,
    )
