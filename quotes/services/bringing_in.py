"""How do the take-offs and cutting plans of a job become material lines of its quote?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from jobs.history import record
from jobs.models import Person
from jobs.money import ZERO
from materials.queries.line_mass import mass_of
from materials.queries.plans import PhaseMaterial, material_of_job
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
        return f"{self.added} lines added, {self.renewed} renewed, {self.taken_off} taken off."


@transaction.atomic
def bring_in_materials(*, quote: Quote, person: Person) -> BroughtIn:
    """The draft's material lines are what take-offs and plans say now; lines entered by hand stay.

    Done again, a line keeps its words, discount and options, and takes the new quantity, cost and mass.
    """
    row = locked_offer(quote)
    wanted = material_of_job(row.job)
    kept = {(line.phase_id, line.source_ref): line for line in row.lines.filter(source=SOURCE)}
    seen: set[Place] = set()
    added = renewed = 0
    for material in wanted.lines:
        place = (material.phase_id, str(material.material.pk))
        if material.cost is None or not material.quantity:
            continue
        seen.add(place)
        if place in kept:
            renewed += _renew(kept[place], material)
        else:
            _add(row, material)
            added += 1
    gone = [line for place, line in kept.items() if place not in seen]
    for line in gone:
        line.delete()
    row.version += 1
    row.save(update_fields=["version"])
    done = BroughtIn(added, renewed, len(gone), wanted.gaps)
    record(
        person=person,
        thing=row,
        action="brought materials into",
        job=row.job,
        after={"lines": done.in_words()},
    )
    return done


def _renew(line: QuoteLine, material: PhaseMaterial) -> int:
    quantity, cost = _figures(material)
    mass_kg = _mass(material)
    mass_kg = line.mass_kg if mass_kg is None else mass_kg  # the catalogue can't say: what was typed stays
    if (line.quantity, line.whole_cost, line.mass_kg) == (quantity, cost, mass_kg):
        return 0
    line.quantity, line.whole_cost, line.unit_cost = quantity, cost, _one(cost, quantity)
    line.mass_kg = mass_kg
    line.version += 1
    line.save(update_fields=["quantity", "whole_cost", "unit_cost", "mass_kg", "version"])
    return 1


def _add(quote: Quote, material: PhaseMaterial) -> None:
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
        mass_kg=_mass(material) or ZERO,
        tax_name=next(iter(tax_names()), ""),
        source=SOURCE,
        source_ref=str(material.material.pk),
    )
    put_last(line)


def _figures(material: PhaseMaterial) -> tuple[Decimal, Decimal]:
    """Quantity to three decimals as it is shown, never nothing; and the cost."""
    quantity = max(Decimal("0.001"), material.quantity.quantize(Decimal("0.001")))
    return quantity, material.cost or ZERO


def _mass(material: PhaseMaterial) -> Decimal | None:
    """What is fitted weighs so much; offcuts stay in the workshop."""
    return mass_of(material.material, material.quantity)


def _one(cost: Decimal, quantity: Decimal) -> Decimal:
    return (cost / quantity).quantize(Decimal("0.0001"))
