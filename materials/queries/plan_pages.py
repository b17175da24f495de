"""What do the pages of cutting plans show? Built in a fixed number of queries however many bars there are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal

from django.utils import timezone

from jobs.models import Job, Person
from jobs.money import ZERO
from materials.cutting.sheet_problem import SheetPart
from materials.cutting.solve import parts_amiss
from materials.cutting.stored import Plan, Problem, problem_from
from materials.enums import PlanState
from materials.models import CuttingPlan, Material, TakeoffItem
from materials.queries.pieces import PieceKey
from materials.queries.plan_read import ToOrder, counts_by_stock, plan_in, to_order
from materials.queries.plan_tasks import JobTasks, Task, tasks_of
from materials.takeoff.figures import plain

SILENCE = timedelta(seconds=20)
"""A search that has not been heard of for so long has died."""


@dataclass(frozen=True)
class ToBuy:
    """So many of one size, from whom and for how much; nobody and nothing for an offcut."""

    count: int
    words: str
    supplier: str
    cost: Decimal | None
    is_offcut: bool


@dataclass(frozen=True)
class PlanLine:
    """One material of the job: its plan in figures, or what stands in the way of one.

    `too_large` are the take-off items whose pieces come out of no stock.
    """

    material: Material
    plan: CuttingPlan | None
    pieces: int
    to_buy: tuple[ToBuy, ...]
    yield_percent: Decimal | None
    nearness: str
    stale: tuple[str, ...]
    is_searching: bool
    is_comparing: bool
    has_died: bool
    too_large: tuple[TakeoffItem, ...] = ()

    @property
    def is_busy(self) -> bool:
        """More is to be seen soon."""
        return self.is_searching or self.is_comparing


@dataclass(frozen=True)
class PlansPage:
    """The cutting plans of a job. `cost` is None for those who see no prices."""

    job: Job
    lines: tuple[PlanLine, ...]
    cost: Decimal | None
    unknown: tuple[str, ...]
    may_plan: bool

    @property
    def without(self) -> tuple[Material, ...]:
        """What is to be cut and has no plan, and so is not in the cost."""
        costless = [line for line in self.lines if line.plan is None or line.plan.cost is None]
        return tuple(line.material for line in costless if line.pieces)

    @property
    def has_plans(self) -> bool:
        """Is there anything to print?"""
        return any(line.to_buy for line in self.lines)

    @property
    def is_searching(self) -> bool:
        return any(line.is_searching for line in self.lines)


def plans_page(job: Job, person: Person) -> PlansPage:
    """All plans of a job with what they would be if made now."""
    found = tasks_of(job)
    lines = tuple(plan_line(found, pk, found.plans.get(pk), person) for pk in found.tasks)
    costs = [line.plan.cost for line in lines if line.plan and line.plan.cost is not None]
    return PlansPage(
        job=job,
        lines=lines,
        cost=sum(costs, ZERO) if person.sees_prices else None,
        unknown=found.demand.unknown,
        may_plan=may_plan(person),
    )


def may_plan(person: Person) -> bool:
    """Owners and makers plan; the bookkeeper reads."""
    return person.role in ("owner", "maker")


def plan_line(found: JobTasks, pk: int, row: CuttingPlan | None, person: Person) -> PlanLine:
    """One material of those found, by its key."""
    task, plan = found.tasks[pk], plan_in(row) if row else None
    return PlanLine(
        material=task.material,
        plan=row,
        pieces=task.problem.pieces(),
        to_buy=to_buy(row, plan, person) if row and plan else (),
        yield_percent=Decimal(plan.yield_permille) / 10 if plan and plan.problem.parts else None,
        nearness=nearness(row) if row else "",
        stale=stale_reasons(task, row) if row else (),
        is_searching=is_searching(row) if row else False,
        is_comparing=is_comparing(row) if row else False,
        has_died=has_died(row) if row else False,
        too_large=_too_large(task, found.demand.items) if row and row.faults else (),
    )


def _too_large(task: Task, items: Mapping[PieceKey, TakeoffItem]) -> tuple[TakeoffItem, ...]:
    """The items whose pieces keep the material from having a plan, each once."""
    parts = [task.problem.parts[at] for at in parts_amiss(task.problem)]
    keys = [(p.phase, p.label, p.width_mm10 if isinstance(p, SheetPart) else p.length_mm10) for p in parts]
    found = {items[key].pk: items[key] for key in keys if key in items}
    return tuple(found.values())


def is_searching(row: CuttingPlan) -> bool:
    return row.state == PlanState.RUNNING and not has_died(row)


def is_comparing(row: CuttingPlan) -> bool:
    """The search is over, and simpler ways are being costed to set the plan beside."""
    has_run = row.run is not None and row.state != PlanState.RUNNING
    return has_run and row.heard_at is not None and timezone.now() - row.heard_at < SILENCE


def has_died(row: CuttingPlan) -> bool:
    """The search said it was running, and has not been heard of since."""
    if row.state != PlanState.RUNNING:
        return False
    return row.heard_at is None or timezone.now() - row.heard_at > SILENCE


def nearness(row: CuttingPlan) -> str:
    """How near to the least cost a plan is known to be, in words a maker can check."""
    if row.cost is None or row.lower_bound is None:
        return ""
    if row.proven:
        return "no plan costs less"
    if row.lower_bound <= 0:
        return "how near to the least is not known"
    over = 100 * (row.cost - row.lower_bound) / row.lower_bound
    return f"at most {over.quantize(Decimal('0.1')) or Decimal('0.1')} % above the least there can be"


def stale_reasons(task: Task, row: CuttingPlan) -> tuple[str, ...]:
    """What has changed since the plan was made; nothing where it still answers the question."""
    was, now = problem_from(row.problem), task.problem
    checks = (
        (was.parts != now.parts, "the take-off has changed"),
        (_for_sale(was) != _for_sale(now), "sizes or prices have changed"),
        (_is_missing(row, now), "offcuts that it uses are no longer in stock"),
    )
    return tuple(words for changed, words in checks if changed)


def _for_sale(problem: Problem) -> list[tuple[str, int]]:
    """Each size that can be bought with its cost; offcuts come and go without making a plan wrong."""
    return [(stock.key, stock.cost) for stock in problem.stock if stock.quantity is None]


def _is_missing(row: CuttingPlan, now: Problem) -> bool:
    """Does the plan use an offcut that is gone, or more of it than there are?"""
    there = {stock.key: stock.quantity or 0 for stock in now.stock if stock.quantity is not None}
    plan = plan_in(row)
    used = counts_by_stock(plan) if plan else {}
    stock = [(plan.problem.stock[at], count) for at, count in used.items()] if plan else []
    return any(one.quantity is not None and there.get(one.key, 0) < count for one, count in stock)


def to_buy(row: CuttingPlan, plan: Plan, person: Person) -> tuple[ToBuy, ...]:
    """How many of each size a plan takes, offcuts last."""
    lines = []
    for line in to_order(row, plan):
        source, stock = row.stock[line.stock], plan.problem.stock[line.stock]
        cost = line.cost if person.sees_prices else None
        words = f"{stock.label}{_in_packs(row, line)}"
        lines.append(ToBuy(line.count, words, source["supplier_name"], cost, bool(source["offcut"])))
    return tuple(lines)


def _in_packs(row: CuttingPlan, line: ToOrder) -> str:
    """The packs they come from, and what need not be bought since the rest of one is there."""
    pack = Decimal(row.stock[line.stock]["pack"])
    if pack == 1:
        return ""
    if line.begun == line.count:
        return f", left of a pack of {plain(pack)}"
    left = f", {line.begun} of them left of one begun" if line.begun else ""
    return f", from packs of {plain(pack)}{left}"
