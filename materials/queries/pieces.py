"""Which pieces and quantities do the take-offs of a job ask for, by material?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from jobs.models import Job
from materials.cutting.wanted import Wanted, gathered
from materials.enums import CUT_AS, Grain, PlanKind
from materials.models import Material, TakeoffItem

PieceKey = tuple[str, str, int]


@dataclass(frozen=True)
class Amount:
    """So much of a material that is not cut, for one phase."""

    phase: int
    amount: Decimal
    unit: str


@dataclass(frozen=True)
class Demand:
    """All that the take-offs of a job ask for. `unknown` names what the catalogue does not hold.

    `items` finds the take-off item of a piece again, by its phase, label and length.
    """

    materials: Mapping[int, Material]
    pieces: Mapping[int, tuple[Wanted, ...]]
    amounts: Mapping[int, tuple[Amount, ...]]
    unknown: tuple[str, ...] = ()
    items: Mapping[PieceKey, TakeoffItem] = field(default_factory=dict)

    def to_plan(self) -> list[Material]:
        """The materials that are cut, in the order of the catalogue."""
        cut = [self.materials[pk] for pk in self.pieces if self.materials[pk].kind in CUT_AS]
        return sorted(cut, key=lambda material: (material.kind, material.name, material.pk))


def demand_of(job: Job) -> Demand:
    """What the job asks for, in two queries."""
    items = list(
        TakeoffItem.objects.filter(phase__job=job).order_by("phase__position", "phase", "position", "pk")
    )
    materials = _materials_of(items)
    pieces: dict[int, list[Wanted]] = defaultdict(list)
    amounts: dict[int, list[Amount]] = defaultdict(list)
    unknown: dict[str, None] = {}
    found_in: dict[PieceKey, TakeoffItem] = {}
    for item in items:
        for piece in item.result.get("pieces", ()):
            if material := materials.get(str(piece["material_key"])):
                wanted = _wanted(item, material, piece)
                pieces[material.pk].append(wanted)
                found_in.setdefault((wanted.phase, wanted.label, wanted.length_mm10), item)
            else:
                unknown[f"{item.title}: {piece['material_key']}"] = None
        for quantity in item.result.get("quantities", ()):
            if material := materials.get(str(quantity["material_key"])):
                amounts[material.pk].append(_amount(item, quantity))
            else:
                unknown[f"{item.title}: {quantity['material_key']}"] = None
    return Demand(
        materials={material.pk: material for material in materials.values()},
        pieces={pk: gathered(found) for pk, found in pieces.items()},
        amounts={pk: tuple(found) for pk, found in amounts.items()},
        unknown=tuple(unknown),
        items=found_in,
    )


def _materials_of(items: Iterable[TakeoffItem]) -> dict[str, Material]:
    """The materials that results speak of, by the key they are spoken of."""
    keys = {
        str(line["material_key"])
        for item in items
        for part in ("pieces", "quantities")
        for line in item.result.get(part, ())
    }
    found = Material.objects.filter(pk__in=[int(key) for key in keys if key.isdigit()])
    return {str(material.pk): material for material in found}


def _wanted(item: TakeoffItem, material: Material, piece: Mapping[str, Any]) -> Wanted:
    """A piece with its grain along its length; only sheets look at grain."""
    length, width = int(piece["length_mm10"]), int(piece.get("width_mm10") or 0)
    grain = piece.get("grain", "any")
    is_sheet = CUT_AS.get(material.kind) == PlanKind.SHEET
    if is_sheet and grain == "along_width":
        length, width = width, length
    label = str(piece.get("label") or "")
    return Wanted(
        phase=str(item.phase_id),
        label=f"{item.title}, {label}" if label else item.title,
        length_mm10=length,
        width_mm10=width if is_sheet else 0,
        quantity=int(piece.get("quantity", 1)),
        may_turn=is_sheet and (grain == "any" or material.grain == Grain.NONE),
        family=f"{item.pk}: {family}" if (family := str(piece.get("family") or "")) else "",
    )


def _amount(item: TakeoffItem, quantity: Mapping[str, Any]) -> Amount:
    return Amount(item.phase_id, Decimal(str(quantity["amount"])), str(quantity.get("unit", "each")))
