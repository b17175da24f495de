"""What is asked for by amount and not cut to a plan: how much of it is in a pack, a length, a sheet?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from jobs.money import ZERO
from materials.enums import CUT_AS, MaterialKind, PlanKind
from materials.models import Material
from materials.queries.pieces import Amount
from materials.queries.prices import PricedSize
from materials.queries.specs import PER_METRE, PER_SQUARE_METRE, spec_of
from materials.takeoff.figures import M2_PER_MM10_SQUARED, metres, plain
from materials.takeoff.packs import choose_packs
from materials.takeoff.result import Unit
from materials.takeoff.specs import PackSize

PER_LITRE = frozenset({"l", "litre", "liter"})
WHOLE = {PlanKind.BOARD: "lengths", PlanKind.SHEET: "sheets"}


class Measured(Protocol):
    """A size of stock, in the catalogue or with its prices."""

    @property
    def length_mm10(self) -> int | None: ...
    @property
    def width_mm10(self) -> int | None: ...
    @property
    def pack_quantity(self) -> Decimal: ...


@dataclass(frozen=True)
class Asked:
    """So much of one material in one unit, by phase. What is asked for in several units is kept apart."""

    material: Material
    unit: str
    by_phase: Mapping[int, Decimal]

    @property
    def total(self) -> Decimal:
        """For all phases together."""
        return sum(self.by_phase.values(), ZERO)

    def held_by(self, size: Measured) -> Decimal | None:
        """How much one pack of a size holds, in this unit; None where its measures don't say.

        What is counted is bought whole: so many lengths or sheets, of what is poured so many tins.
        """
        cut_as = CUT_AS.get(self.material.kind)
        if cut_as is not None:
            measure = Decimal(1) if self.unit == Unit.EACH else _measure(self.material, size, self.unit)
            return measure and measure * size.pack_quantity
        if self.is_own_unit:
            return size.pack_quantity
        return Decimal(1) if self.unit == Unit.EACH else None

    @property
    def is_own_unit(self) -> bool:
        """Is it what packs and stock of a thing that is not cut are measured in?"""
        return self.unit == own_unit(self.material)

    def choose(self, amount: Decimal, sizes: Iterable[PricedSize]) -> list[tuple[PricedSize, int]]:
        """The cheapest packs of these sizes that hold so much; nothing where none with a price does."""
        priced = {}
        for size in sizes:
            held = self.held_by(size)
            if held and size.price is not None:
                priced[PackSize(held, size.price)] = size
        if not priced or amount <= 0:
            return []
        return [(priced[pack], count) for pack, count in choose_packs(amount, tuple(priced))]

    def said(self, sizes: Iterable[PricedSize]) -> str:
        """How the amount becomes whole stock, where that isn't plain."""
        amount = plain(self.total)
        if self.unit == Unit.EACH:
            is_whole = self.material.kind in CUT_AS or not self.is_own_unit
            several = is_whole and sum(1 for size in sizes if size.best) > 1
            return f"{amount} counted, of the cheapest size" if several else ""
        if self.material.kind not in CUT_AS:
            return ""
        return f"for {amount} {self.unit}, by {'length' if self.unit == Unit.METRE else 'area'}"

    @property
    def riddle(self) -> str:
        """What is said where no size holds any of it."""
        cut_as = CUT_AS.get(self.material.kind)
        whole = WHOLE[cut_as] if cut_as else "packs"
        return f"{self.material}: {plain(self.total)} {self.unit} cannot be turned into whole {whole}"


def asked_of(materials: Mapping[int, Material], amounts: Mapping[int, Iterable[Amount]]) -> tuple[Asked, ...]:
    """What is asked for by amount, unit by unit."""
    found: dict[tuple[int, str], dict[int, Decimal]] = {}
    for pk, of_material in amounts.items():
        for amount in of_material:
            by_phase = found.setdefault((pk, amount.unit), defaultdict(Decimal))
            by_phase[amount.phase] += amount.amount
    return tuple(Asked(materials[pk], unit, by_phase) for (pk, unit), by_phase in found.items())


def own_unit(material: Material) -> Unit:
    """What one of its packs is measured in."""
    unit = material.unit.strip().lower()
    if material.kind == MaterialKind.LIQUID or unit in PER_LITRE:
        return Unit.LITRE
    if unit in PER_METRE:
        return Unit.METRE
    return Unit.SQUARE_METRE if unit in PER_SQUARE_METRE else Unit.EACH


def _measure(material: Material, size: Measured, unit: str) -> Decimal | None:
    """Metres of a length, square metres of a sheet or of what a board covers."""
    is_sheet = CUT_AS[material.kind] == PlanKind.SHEET
    length = size.length_mm10 or 0
    if unit == Unit.METRE and not is_sheet:
        return metres(length) or None
    width = (size.width_mm10 or 0) if is_sheet else spec_of(material, ()).cover_mm10
    return M2_PER_MM10_SQUARED * length * width or None if unit == Unit.SQUARE_METRE else None
