"""How do the take-offs and cutting plans of a job become material lines of its quote?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from jobs.history import record
from jobs.models import Person
from jobs.money import ZERO
from materials.queries.line_mass import fitted_by_phase, masses_of_lines
from materials.queries.material_lines import PhaseMaterial
from materials.queries.plans import material_of_job
from materials.takeoff.figures import counted
from quotes.enums import LineKind
from quotes.models import Quote, QuoteLine
from quotes.queries.figures import tax_names
from quotes.services.drafting import locked_offer, put_last

SOURCE = "materials"
Place = tuple[int, str]


@dataclass(frozen=True)
class BroughtIn:
    """What became of the lines, and what the figures leave out."""

    added: int
    renewed: int
    taken_off: int
    gaps: tuple[str, ...]

    def in_words(self) -> str:
        """What is said on the desk."""
        return f"{counted(self.added, 'line')} added, {self.renewed} renewed, {self.taken_off} taken off."


@transaction.atomic
def bring_in_materials(*, quote: Quote, person: Person) -> BroughtIn:
    """The draft's material lines are what take-offs and plans say now; lines entered by hand stay.

    Done again, a line keeps its words, discount and options, and takes the new quantity, cost and mass.
    """
    row = locked_offer(quote)
    found = material_of_job(row.job)
    wanted = [material for material in found.lines if material.cost is not None and material.quantity]
    masses = masses_of_lines(found.lines, fitted_by_phase(row.job))
    kept = list(row.lines.filter(source=SOURCE))
    known = _known(kept, wanted)
    added = renewed = 0
    for material in wanted:
        line = known.get(_place(material))
        if line:
            renewed += _renew(line, material, masses[_place(material)])
        else:
            _add(row, material, masses[_place(material)])
            added += 1
    stay = {line.pk for line in known.values()}
    gone = [line for line in kept if line.pk not in stay]
    for line in gone:
        line.delete()
    row.version += 1
    row.save(update_fields=["version"])
    done = BroughtIn(added, renewed, len(gone), found.gaps)
    record(
        person=person,
        thing=row,
        action="brought materials into",
        job=row.job,
        after={"lines": done.in_words()},
    )
    return done


def _place(material: PhaseMaterial) -> Place:
    return material.phase_id, material.key


def _known(kept: Iterable[QuoteLine], wanted: Sequence[PhaseMaterial]) -> dict[Place, QuoteLine]:
    """Which line stands for which material by now.

    Lines of older drafts name the material alone, be it cut or counted: their unit tells which is meant.
    """
    left = {line.pk: line for line in kept}
    known: dict[Place, QuoteLine] = {}
    for is_of in (_names, _was_of, _may_have_been_of):
        for material in wanted:
            line = next((one for one in left.values() if is_of(one, material)), None)
            if line and _place(material) not in known:
                known[_place(material)] = left.pop(line.pk)
    return known


def _names(line: QuoteLine, material: PhaseMaterial) -> bool:
    return (line.phase_id, line.source_ref) == _place(material)


def _was_of(line: QuoteLine, material: PhaseMaterial) -> bool:
    return line.unit == material.unit and _may_have_been_of(line, material)


def _may_have_been_of(line: QuoteLine, material: PhaseMaterial) -> bool:
    return (line.phase_id, line.source_ref) == (material.phase_id, str(material.material.pk))


def _renew(line: QuoteLine, material: PhaseMaterial, mass_kg: Decimal | None) -> int:
    if line.source_ref != material.key:
        line.source_ref, line.unit = material.key, material.unit
        line.save(update_fields=["source_ref", "unit"])
    quantity, cost = _figures(material)
    mass_kg = line.mass_kg if mass_kg is None else mass_kg  # the catalogue can't say: what was typed stays
    if (line.quantity, line.whole_cost, line.mass_kg) == (quantity, cost, mass_kg):
        return 0
    line.quantity, line.whole_cost, line.unit_cost = quantity, cost, _one(cost, quantity)
    line.mass_kg = mass_kg
    line.version += 1
    line.save(update_fields=["quantity", "whole_cost", "unit_cost", "mass_kg", "version"])
    return 1


def _add(quote: Quote, material: PhaseMaterial, mass_kg: Decimal | None) -> None:
    quantity, cost = _figures(material)
    line = QuoteLine(
        quote=quote,
        phase_id=material.phase_id,
        kind=LineKind.MATERIAL,
        description=material.material.name,
        quantity=quantity,
        unit=material.unit,
        unit_cost=_one(cost, quantity),
        whole_cost=cost,
        mass_kg=mass_kg or ZERO,
        tax_name=next(iter(tax_names()), ""),
        source=SOURCE,
        source_ref=material.key,
    )
    put_last(line)


def _figures(material: PhaseMaterial) -> tuple[Decimal, Decimal]:
    """Quantity to three decimals as it is shown, never nothing; and the cost."""
    quantity = max(Decimal("0.001"), material.quantity.quantize(Decimal("0.001")))
    return quantity, material.cost or ZERO


def _one(cost: Decimal, quantity: Decimal) -> Decimal:
    return (cost / quantity).quantize(Decimal("0.0001"))
