"""What does a kept plan say, read back into the terms of the solvers?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, minor_unit, round_money
from jobs.workshop import current_workshop
from materials.cutting.allocate import share_out, weights_by_phase
from materials.cutting.stored import Plan, plan_from, problem_from
from materials.cutting.uses import uses_of
from materials.models import CuttingPlan
from materials.takeoff.packs import whole_packs


def plan_in(row: CuttingPlan) -> Plan | None:
    """The plan kept in a row, None where there is none yet."""
    return None if row.result is None else plan_from(problem_from(row.problem), row.result)


def counts_by_stock(plan: Plan) -> Counter[int]:
    """How many of each stock a plan takes."""
    counts: Counter[int] = Counter()
    for use in uses_of(plan):
        counts[use.stock] += use.repeat
    return counts


@dataclass(frozen=True)
class ToOrder:
    """One line of what a plan takes: so many of a stock, in packs of so many, and what they cost."""

    stock: int
    count: int
    packs: int
    cost: Decimal


def to_order(row: CuttingPlan, plan: Plan) -> list[ToOrder]:
    """What a plan takes by stock: whole packs, at the prices of when it was made, each line rounded."""
    currency = current_workshop().currency
    lines = []
    for stock, count in sorted(counts_by_stock(plan).items()):
        source = row.stock[stock]
        packs = whole_packs(Decimal(count), Decimal(source["pack"]))
        cost = round_money(Decimal(source["price"]) * packs, currency)
        lines.append(ToOrder(stock, count, packs, cost))
    return lines


def cost_still_to_cut(row: CuttingPlan, plan: Plan) -> Decimal:
    """What the stock of a plan costs."""
    return sum((line.cost for line in to_order(row, plan)), ZERO)


def phase_weights(row: CuttingPlan, plan: Plan | None) -> dict[str, int]:
    """What each phase takes of the stock, in what is sawn and what is still to be cut."""
    weights: Counter[str] = Counter()
    for bar in row.sawn.all():
        for part in bar.parts:
            across = part["width_mm10"] + row.kerf_mm10 if part["width_mm10"] else 1
            weights[part["phase"]] += (part["length_mm10"] + row.kerf_mm10) * across * part["quantity"]
    return dict(weights + Counter(weights_by_phase(plan.problem) if plan else {}))


def shared(cost: Decimal, weights: Mapping[str, int], phases: Collection[str]) -> dict[int, Decimal]:
    """A cost shared by weight, to the penny. A phase that is gone leaves its share to the others."""
    there = {phase: weight for phase, weight in weights.items() if phase in phases}
    if not there:
        return {}
    unit = minor_unit(current_workshop().currency)
    return {int(phase): units * unit for phase, units in share_out(int(cost / unit), there).items()}
