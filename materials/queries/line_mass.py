"""What does so much of a material weigh, and which part of what a phase weighs is each of its lines?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from decimal import Decimal

from jobs.models import Job
from jobs.money import ZERO
from materials.cutting.allocate import share_out
from materials.enums import CUT_AS
from materials.models import Material, TakeoffItem
from materials.queries.by_amount import own_unit
from materials.queries.material_lines import PhaseMaterial
from materials.queries.specs import spec_of
from materials.queries.takeoff import stored_result
from materials.takeoff.mass import board_mass, counted_mass, sheet_mass
from materials.takeoff.result import Unit

GRAM_PLACES = 3


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


def fitted_by_phase(job: Job) -> dict[int, Decimal]:
    """What the take-off says each phase weighs, as far as is known; one query."""
    found: dict[int, Decimal] = defaultdict(Decimal)
    for item in TakeoffItem.objects.filter(phase__job=job):
        result = stored_result(item)
        if result and result.mass_kg is not None:
            found[item.phase_id] += result.mass_kg
    return dict(found)


def masses_of_lines(
    lines: Iterable[PhaseMaterial], fitted: Mapping[int, Decimal]
) -> dict[tuple[int, str], Decimal | None]:
    """What each line weighs as fitted, by phase and key; None where the catalogue can't say.

    Boards are cut longer than they show: splayed ends and rips stay in the workshop. So a phase's cut lines
    share what its take-off weighs besides what is counted, and the phase adds up to the take-off's figure.
    """
    by_phase: dict[int, list[PhaseMaterial]] = defaultdict(list)
    for line in lines:
        by_phase[line.phase_id].append(line)
    masses: dict[tuple[int, str], Decimal | None] = {}
    for phase, own in by_phase.items():
        known = {line.key: mass_of(line.material, line.quantity, line.unit) for line in own}
        cut = {line.key for line in own if line.is_cut}
        known |= _shared(fitted.get(phase, ZERO), known, cut)
        masses |= {(phase, key): mass for key, mass in known.items()}
    return masses


def _shared(total: Decimal, known: Mapping[str, Decimal | None], cut: set[str]) -> dict[str, Decimal]:
    """The cut lines' part of a phase's mass; nothing where the take-off leaves none for them."""
    weighed = {key: mass for key, mass in known.items() if mass}
    left = total - sum((mass for key, mass in weighed.items() if key not in cut), ZERO)
    weights = {key: int(mass.scaleb(GRAM_PLACES)) for key, mass in weighed.items() if key in cut}
    if left <= 0 or not weights:
        return {}
    grams = share_out(int(left.scaleb(GRAM_PLACES)), weights)
    return {key: Decimal(one).scaleb(-GRAM_PLACES) for key, one in grams.items()}
