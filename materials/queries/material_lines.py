"""What is said of the material of a job: how much each phase takes at what cost, and what is to be bought."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.money import ZERO
from materials.models import Material
from materials.queries.by_amount import Asked


@dataclass(frozen=True)
class PhaseMaterial:
    """So much of one material for one phase. `cost` is None where no price or no plan is to be had."""

    phase_id: int
    material: Material
    quantity: Decimal
    unit: str
    cost: Decimal | None
    is_cut: bool = False

    @property
    def key(self) -> str:
        """What tells it from the others of its phase, where one material is both cut and counted."""
        return f"{self.material.pk} {'cut' if self.is_cut else self.unit}"


@dataclass(frozen=True)
class BuyLine:
    """So many of one size to buy. `shares` says which phase bears how much, and adds up to `cost`.

    `said` is how an amount was turned into whole pieces, where that isn't plain.
    """

    material: Material
    size_id: int
    words: str
    count: int
    price: Decimal
    cost: Decimal
    supplier_id: int
    supplier: str
    shares: Mapping[int, Decimal]
    said: str = ""


@dataclass(frozen=True)
class JobMaterials:
    """All the material of a job. `gaps` says in words what the figures leave out or what is out of date.

    What cutting plans buy stands apart from what is bought by amount; `asked` is what that was chosen for.
    `from_rack` says how many of a thing in stock the plans take.
    """

    lines: tuple[PhaseMaterial, ...] = ()
    planned: tuple[BuyLine, ...] = ()
    packed: tuple[BuyLine, ...] = ()
    gaps: tuple[str, ...] = ()
    asked: tuple[Asked, ...] = ()
    from_rack: Mapping[int, int] = field(default_factory=dict)

    @property
    def to_buy(self) -> tuple[BuyLine, ...]:
        """All that is bought, before anything is taken off for stock or orders."""
        return (*self.planned, *self.packed)

    @property
    def cost(self) -> Decimal:
        """What is known of the cost of all phases together."""
        return sum((line.cost for line in self.lines if line.cost is not None), ZERO)

    def cost_by_phase(self) -> dict[int, Decimal]:
        """What is known of the cost of each phase."""
        costs: dict[int, Decimal] = defaultdict(Decimal)
        for line in self.lines:
            costs[line.phase_id] += line.cost or ZERO
        return dict(costs)

    def by_supplier(self) -> dict[str, list[BuyLine]]:
        """The buy list, supplier by supplier."""
        lists: dict[str, list[BuyLine]] = {}
        for line in sorted(self.to_buy, key=lambda line: (line.supplier, line.material.name, line.words)):
            lists.setdefault(line.supplier, []).append(line)
        return lists
