"""What does so much of a material weigh, as far as the catalogue can say?"""

from __future__ import annotations

from decimal import Decimal

from materials.enums import CUT_AS, PlanKind
from materials.models import Material
from materials.queries.specs import spec_of
from materials.takeoff.mass import board_mass, counted_mass, sheet_mass


def mass_of(material: Material, quantity: Decimal) -> Decimal | None:
    """Kilograms of metres of board, square metres of sheet or so many of anything else; no query.

    None where the catalogue has neither a density nor a mass per unit.
    """
    spec = spec_of(material, ())
    cut_as = CUT_AS.get(material.kind)
    if cut_as is None:
        return counted_mass(quantity, spec)
    return sheet_mass(quantity, spec) if cut_as == PlanKind.SHEET else board_mass(quantity, spec)
