"""What does the material of a job cost, phase by phase, and what is to be bought from whom?

Boards and sheets cost what their cutting plans cost; everything else comes in whole packs over the whole job.
Both are shared among the phases so that the shares add up to what is paid, to the penny.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from decimal import Decimal

from django.utils import timezone

from jobs.models import Job, Phase
from jobs.money import ZERO, round_money
from jobs.workshop import current_workshop
from materials.cutting.stored import Plan
from materials.cutting.wanted import Wanted
from materials.enums import CUT_AS, PlanKind
from materials.models import CuttingPlan, Material
from materials.queries.by_amount import Asked, asked_of
from materials.queries.catalogue import words_of
from materials.queries.material_lines import BuyLine, JobMaterials, PhaseMaterial
from materials.queries.plan_pages import has_died, is_searching, stale_reasons
from materials.queries.plan_read import counts_by_stock, phase_weights, plan_in, shared, to_order
from materials.queries.plan_tasks import JobTasks, tasks_of
from materials.queries.prices import PricedSize, priced_sizes
from materials.takeoff.figures import plain

MM10_A_METRE = Decimal(10_000)


def material_of_job(job: Job) -> JobMaterials:
    """What the job takes, costs and still has to buy, in twelve queries however large it is."""
    found = tasks_of(job)
    phases = {str(pk) for pk in Phase.objects.filter(job=job).values_list("pk", flat=True)}
    prices = priced_sizes(found.demand.amounts, on=timezone.localdate())
    asked = asked_of(found.demand.materials, found.demand.amounts)
    parts = [_planned(found, pk, phases) for pk in found.tasks]
    parts += [_packed(one, prices[one.material.pk]) for one in asked]
    unknown = [f"Not in the catalogue: {words}" for words in found.demand.unknown]
    return JobMaterials(
        lines=tuple(line for part in parts for line in part.lines),
        planned=tuple(line for part in parts for line in part.planned),
        packed=tuple(line for part in parts for line in part.packed),
        gaps=(*(gap for part in parts for gap in part.gaps), *unknown),
        asked=asked,
        from_rack={pk: count for part in parts for pk, count in part.from_rack.items()},
    )


def _planned(found: JobTasks, pk: int, phases: set[str]) -> JobMaterials:
    """One material that is cut: its cost by the shares of its plan."""
    row, task = found.plans.get(pk), found.tasks[pk]
    pieces = found.demand.pieces.get(pk, ())
    plan = plan_in(row) if row else None
    if row is None or plan is None:
        gap = f"{task.material} {_without_plan(row)}"
        return JobMaterials(_uses(task.material, pieces, None), gaps=(gap,))
    weights = phase_weights(row, plan)
    costs = shared(row.cost or ZERO, weights, phases)
    stale = stale_reasons(task, row)
    return JobMaterials(
        lines=_uses(task.material, pieces, costs),
        planned=tuple(_bought(row, plan, weights, phases)),
        gaps=(f"The cutting plan of {task.material} is out of date: {' and '.join(stale)}",) if stale else (),
        from_rack=_from_rack(row, plan),
    )


def _without_plan(row: CuttingPlan | None) -> str:
    """Why there is none: many pieces take a search, which may go on or have ended without a word."""
    if row is None or has_died(row):
        return "has no cutting plan yet"
    if is_searching(row):
        return "has no cutting plan yet: it is still being searched for"
    return "cannot be cut from what there is"


def _from_rack(row: CuttingPlan, plan: Plan) -> dict[int, int]:
    """How many of what lies in stock a plan takes."""
    taken = [(row.stock[at]["offcut"], count) for at, count in counts_by_stock(plan).items()]
    return {offcut: count for offcut, count in taken if offcut}


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
                words=_of_pack(plan.problem.stock[line.stock].label, Decimal(source["pack"])),
                count=line.packs,
                price=Decimal(source["price"]),
                cost=line.cost,
                supplier_id=source["supplier"],
                supplier=source["supplier_name"],
                shares=shared(line.cost, weights, phases),
            )


def _of_pack(words: str, pack: Decimal) -> str:
    """A size as it is ordered: of a pack, how many are in it."""
    return words if pack == 1 else f"{words}, pack of {plain(pack)}"


def _packed(asked: Asked, sizes: Sequence[PricedSize]) -> JobMaterials:
    """What is not cut to a plan: the cheapest whole packs that hold what all phases need together."""
    chosen = asked.choose(asked.total, sizes)
    if not chosen:
        return JobMaterials(_amounts(asked, None), gaps=tuple(_not_to_be_had(asked, sizes)))
    packed = tuple(_pack_line(asked, size, count, asked.said(sizes)) for size, count in chosen)
    costs: dict[int, Decimal] = defaultdict(Decimal)
    for line in packed:
        for phase, cost in line.shares.items():
            costs[phase] += cost
    return JobMaterials(_amounts(asked, costs), packed=packed)


def _not_to_be_had(asked: Asked, sizes: Iterable[PricedSize]) -> Iterable[str]:
    priced = [size for size in sizes if size.best]
    if asked.total:
        yield asked.riddle if priced else f"{asked.material} has no price"


def _amounts(asked: Asked, costs: Mapping[int, Decimal] | None) -> tuple[PhaseMaterial, ...]:
    return tuple(
        PhaseMaterial(phase, asked.material, amount, asked.unit, _cost(costs, phase))
        for phase, amount in asked.by_phase.items()
    )


def _pack_line(asked: Asked, size: PricedSize, count: int, said: str) -> BuyLine:
    assert size.best is not None
    cost = round_money(size.best.price * count, current_workshop().currency)
    weights = {str(phase): int(amount.scaleb(4)) for phase, amount in asked.by_phase.items()}
    return BuyLine(
        material=asked.material,
        size_id=size.size_id,
        words=words_of(asked.material, size),
        count=count,
        price=size.best.price,
        cost=cost,
        supplier_id=size.best.supplier_id,
        supplier=size.best.supplier,
        shares=shared(cost, weights, weights.keys()),
        said=said,
    )
