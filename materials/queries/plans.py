"""What does the material of a job cost, phase by phase, and what is to be bought from whom?

Boards and sheets cost what their cutting plans cost; everything else comes in whole packs over the whole job.
Both are shared among the phases so that the shares add up to what is paid, to the penny.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.utils import timezone

from jobs.lengths import System
from jobs.models import Job, Phase
from jobs.money import ZERO, round_money
from jobs.workshop import current_workshop
from materials.cutting.stored import Plan
from materials.cutting.wanted import Wanted
from materials.enums import CUT_AS, PlanKind
from materials.models import CuttingPlan, Material
from materials.queries.pieces import Amount
from materials.queries.plan_pages import stale_reasons
from materials.queries.plan_read import phase_weights, plan_in, shared, to_order
from materials.queries.plan_tasks import JobTasks, tasks_of
from materials.queries.prices import PricedSize, priced_sizes
from materials.size_words import size_words
from materials.takeoff.packs import choose_packs
from materials.takeoff.specs import PackSize

MM10_A_METRE = Decimal(10_000)


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
    """So many of one size to buy. `shares` says which phase bears how much, and adds up to `cost`."""

    material: Material
    size_id: int
    words: str
    count: int
    price: Decimal
    cost: Decimal
    supplier_id: int
    supplier: str
    shares: Mapping[int, Decimal]


@dataclass(frozen=True)
class JobMaterials:
    """All the material of a job. `gaps` says in words what the figures leave out or what is out of date."""

    lines: tuple[PhaseMaterial, ...]
    to_buy: tuple[BuyLine, ...]
    gaps: tuple[str, ...]

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


def material_of_job(job: Job) -> JobMaterials:
    """What the job takes, costs and still has to buy, in twelve queries however large it is."""
    found = tasks_of(job)
    phases = {str(pk) for pk in Phase.objects.filter(job=job).values_list("pk", flat=True)}
    by_plan = [_planned(found, pk, phases) for pk in found.tasks]
    prices = priced_sizes(found.demand.amounts, on=timezone.localdate())
    by_pack = [
        _packed(found.demand.materials[pk], amounts, prices[pk])
        for pk, amounts in found.demand.amounts.items()
    ]
    parts = [*by_plan, *by_pack]
    unknown = [f"Not in the catalogue: {words}" for words in found.demand.unknown]
    return JobMaterials(
        lines=tuple(line for part in parts for line in part.lines),
        to_buy=tuple(line for part in parts for line in part.to_buy),
        gaps=(*(gap for part in parts for gap in part.gaps), *unknown),
    )


def _planned(found: JobTasks, pk: int, phases: set[str]) -> JobMaterials:
    """One material that is cut: its cost by the shares of its plan."""
    row, task = found.plans.get(pk), found.tasks[pk]
    pieces = found.demand.pieces.get(pk, ())
    plan = plan_in(row) if row else None
    if row is None or plan is None:
        why = "has no cutting plan yet" if row is None else "cannot be cut from what there is"
        return JobMaterials(_uses(task.material, pieces, None), (), (f"{task.material} {why}",))
    weights = phase_weights(row, plan)
    costs = shared(row.cost or ZERO, weights, phases)
    stale = stale_reasons(task, row)
    gap = (f"The cutting plan of {task.material} is out of date: {' and '.join(stale)}",) if stale else ()
    return JobMaterials(_uses(task.material, pieces, costs), tuple(_bought(row, plan, weights, phases)), gap)


def _uses(
    material: Material, pieces: Iterable[Wanted], costs: Mapping[int, Decimal] | None
) -> tuple[PhaseMaterial, ...]:
    """Metres of board or square metres of sheet that each phase uses, with what it bears of the cost."""
    is_sheet = CUT_AS[material.kind] == PlanKind.SHEET
    used: dict[int, Decimal] = defaultdict(Decimal)
    for piece in pieces:
        width = Decimal(piece.width_mm10) / MM10_A_METRE if is_sheet else Decimal(1)
        used[int(piece.phase)] += piece.quantity * width * piece.length_mm10 / MM10_A_METRE
    unit = "m²" if is_sheet else "m"
    phases = dict.fromkeys([*used, *(costs or {})])
    return tuple(
        PhaseMaterial(phase, material, used.get(phase, ZERO), unit, _cost(costs, phase), is_cut=True)
        for phase in phases
    )


def _cost(costs: Mapping[int, Decimal] | None, phase: int) -> Decimal | None:
    return None if costs is None else costs.get(phase, ZERO)


def _bought(
    row: CuttingPlan, plan: Plan, weights: Mapping[str, int], phases: Collection[str]
) -> Iterable[BuyLine]:
    """What a plan buys; what lies on the rack, or in a pack that is begun, is not bought."""
    for line in to_order(row, plan):
        source = row.stock[line.stock]
        if source["size"] and line.packs:
            yield BuyLine(
                material=row.material,
                size_id=source["size"],
                words=plan.problem.stock[line.stock].label,
                count=line.packs,
                price=Decimal(source["price"]),
                cost=line.cost,
                supplier_id=source["supplier"],
                supplier=source["supplier_name"],
                shares=shared(line.cost, weights, phases),
            )


def _packed(material: Material, amounts: Iterable[Amount], sizes: Iterable[PricedSize]) -> JobMaterials:
    """A material that is not cut: the cheapest whole packs that hold what all phases need together."""
    used: dict[str, Decimal] = defaultdict(Decimal)
    unit = ""
    for amount in amounts:
        used[str(amount.phase)] += amount.amount
        unit = amount.unit
    priced = {PackSize(size.pack_quantity, size.price): size for size in sizes if size.best}
    total = sum(used.values(), ZERO)
    if not priced or not total:
        gap = (f"{material} has no price",) if total else ()
        return JobMaterials(_amounts(material, used, unit, None), (), gap)
    packs = choose_packs(total, tuple(priced))
    to_buy = tuple(_pack_line(material, priced[pack], count, used) for pack, count in packs)
    costs: dict[int, Decimal] = defaultdict(Decimal)
    for line in to_buy:
        for phase, cost in line.shares.items():
            costs[phase] += cost
    return JobMaterials(_amounts(material, used, unit, costs), to_buy, ())


def _amounts(
    material: Material, used: Mapping[str, Decimal], unit: str, costs: Mapping[int, Decimal] | None
) -> tuple[PhaseMaterial, ...]:
    return tuple(
        PhaseMaterial(int(phase), material, amount, unit, _cost(costs, int(phase)))
        for phase, amount in used.items()
    )


def _pack_line(material: Material, size: PricedSize, count: int, used: Mapping[str, Decimal]) -> BuyLine:
    assert size.best is not None
    workshop = current_workshop()
    system = System(workshop.measurement)
    cost = round_money(size.best.price * count, workshop.currency)
    weights = {phase: int(amount.scaleb(4)) for phase, amount in used.items()}
    return BuyLine(
        material=material,
        size_id=size.size_id,
        words=size_words(
            size.length_mm10, size.width_mm10, size.pack_quantity, unit=material.unit, system=system
        ),
        count=count,
        price=size.best.price,
        cost=cost,
        supplier_id=size.best.supplier_id,
        supplier=size.best.supplier,
        shares=shared(cost, weights, used.keys()),
    )
