"""What does a kept plan say, read back into the terms of the solvers?"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from jobs.money import ZERO, round_money, split_money
from jobs.workshop import current_workshop
from materials.cutting.phase_use import uses_of, weights_by_stock
from materials.cutting.stored import Plan, plan_from, problem_from
from materials.models import CuttingPlan, SawnStock
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


@dataclass(frozen=True)
class LineShares:
    """A line of what a plan takes, and which phase bears how much of it; the shares add up to its cost."""

    line: ToOrder
    shares: Mapping[str, Decimal]


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


def line_shares(row: CuttingPlan, plan: Plan, phases: Collection[str]) -> list[LineShares]:
    """Each line of what a plan takes, with its cost shared among the phases that use it, to the penny."""
    weights = weights_by_stock(plan)
    return [LineShares(line, shared(line.cost, weights[line.stock], phases)) for line in to_order(row, plan)]


def sawn_shares(bar: SawnStock, phases: Collection[str]) -> dict[str, Decimal]:
    """The price of what has been sawn, shared among the phases whose parts came off it."""
    taken: dict[str, Fraction] = defaultdict(Fraction)
    for part in bar.parts:
        size = part["length_mm10"] * (part["width_mm10"] or 1)
        taken[part["phase"]] += size * part["quantity"]
    return shared(bar.price, taken, phases)


def shared(cost: Decimal, weights: Mapping[str, Fraction], phases: Collection[str]) -> dict[str, Decimal]:
    """A cost split by weight, to the penny. A phase that is gone leaves its share to those that are there."""
    there = {phase: weight for phase, weight in weights.items() if phase in phases}
    there = there or dict.fromkeys(phases, Fraction(1))
    if not there:
        return {}
    exact = [Decimal(weight.numerator) / weight.denominator for weight in there.values()]
    return dict(zip(there, split_money(cost, exact, current_workshop().currency), strict=True))
