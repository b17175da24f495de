"""How much will this board, or this wall of boards, swell and shrink across the grain with the seasons?

ΔD = D × C × (M_final − M_start), valid from 6 to 14 % moisture. Source: Wood Handbook, FPL-GTR-190 (2010),
ch. 13 eq. 13-2 and Table 13-5 (dimensional change coefficients).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from enum import StrEnum

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import rounded

LOWEST_PCT, HIGHEST_PCT = Decimal(6), Decimal(14)
SATURATED_PCT = Decimal(30)


class Sawn(StrEnum):
    """How the board was sawn: growth rings flat across its width, or standing on edge."""

    FLAT = "flat"
    QUARTER = "quarter"


@dataclass(frozen=True)
class Species:
    """A timber and its coefficients of change per 1 % of moisture: radial (quarter), tangential (flat)."""

    name: str
    radial: Decimal
    tangential: Decimal

    def coefficient(self, sawn: Sawn) -> Decimal:
        """The one that goes with the way it was sawn."""
        return self.tangential if sawn is Sawn.FLAT else self.radial


SPECIES = {
    species.name: species
    for species in (
        Species("American beech", Decimal("0.00190"), Decimal("0.00431")),
        Species("Black cherry", Decimal("0.00126"), Decimal("0.00248")),
        Species("Black walnut", Decimal("0.00190"), Decimal("0.00274")),
        Species("Red oak", Decimal("0.00158"), Decimal("0.00369")),
        Species("Sugar maple", Decimal("0.00165"), Decimal("0.00353")),
        Species("White ash", Decimal("0.00169"), Decimal("0.00274")),
        Species("White fir", Decimal("0.00112"), Decimal("0.00245")),
        Species("White oak", Decimal("0.00180"), Decimal("0.00365")),
        Species("Yellow birch", Decimal("0.00256"), Decimal("0.00338")),
    )
}


@dataclass(frozen=True)
class Movement:
    """The change of one board and of all of them (swelling is positive), in millimetres, with any warning."""

    each_mm: Decimal
    all_mm: Decimal
    coefficient: Decimal
    caution: str


def seasonal_change(
    species: Species, sawn: Sawn, *, width_mm10: int, boards: int, from_pct: Decimal, to_pct: Decimal
) -> Movement:
    """The change of width between two moistures; outside 6 to 14 % with a warning, above 30 % refused.

    >>> oak, dry, damp = SPECIES["White oak"], Decimal(8), Decimal(12)
    >>> change = seasonal_change(oak, Sawn.FLAT, width_mm10=1500, boards=1, from_pct=dry, to_pct=damp)
    >>> change.each_mm
    Decimal('2.19')
    """
    if width_mm10 <= 0 or boards <= 0:
        raise MeasureAgain("Measure the board's width and count the boards.", "width")
    if not all(0 <= pct <= SATURATED_PCT for pct in (from_pct, to_pct)):
        raise MeasureAgain("Moisture runs from 0 to 30 %: beyond that wood no longer swells.", "from_pct")
    coefficient = species.coefficient(sawn)
    each = Decimal(width_mm10) / 10 * coefficient * (to_pct - from_pct)
    inside = all(LOWEST_PCT <= pct <= HIGHEST_PCT for pct in (from_pct, to_pct))
    caution = (
        "" if inside else "Outside 6 to 14 % moisture these coefficients no longer hold: take it as a hint."
    )
    return Movement(rounded(each, 2), rounded(each * boards, 2), coefficient, caution)


def gap_to_leave(movement: Movement) -> Decimal:
    """The gap in millimetres for the whole to swell into, up to the next half millimetre; 0 if it shrinks.

    Half the gap goes to each side (common practice).
    """
    swelling = max(movement.all_mm, Decimal(0))
    return (swelling * 2).to_integral_value(ROUND_CEILING) / 2
