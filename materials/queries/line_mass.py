"""What does so much of a material weigh, as far as the catalogue can say?"""

from __future__ import annotations

from decimal import Decimal

from materials.enums import CUT_AS
from materials.models import Material
from materials.queries.by_amount import own_unit
from materials.queries.specs import spec_of
from materials.takeoff.mass import board_mass, counted_mass, sheet_mass
from materials.takeoff.result import Unit


def mass_of(material: Material, quantity: Decimal, unit: str) -> Decimal | None:
    """Kilograms of so many metres, square metres or of anything that is counted or poured; no query.

    None where the catalogue has neither a density nor a mass per unit, and for whole boards, sheets or tins:
    how large they are is not said.
    """
    spec = spec_of(material, ())
    if unit == Unit.METRE and material.kind in CUT_AS:
        return board_mass(quantity, spec)
    if unit == Unit.SQUARE_METRE and material.kind in CUT_AS:
        return sheet_mass(quantity, spec)
    is_known = material.kind not in CUT_AS and unit == own_unit(material)
    return counted_mass(quantity, spec) if is_known else None
