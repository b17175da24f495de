"""What does a kept plan say, read back into the terms of the solvers?"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, minor_unit, round_money
from jobs.workshop import current_workshop
from materials.cutting.allocate import share_out, weights_by_phase
from materials.cutting.sold import Sold, sold_as
from materials.cutting.stored import Plan, plan_from, problem_from
from materials.cutting.uses import uses_of
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
    """One line of what a plan still takes: so many of a stock, the packs to open for them, and their cost.

    `begun` says how many come out of a pack that others were sawn from, which is paid for already.
    """

    stock: int
    count: int
    packs: int
    cost: Decimal
    begun: int = 0


def to_order(row: CuttingPlan, plan: Plan) -> list[ToOrder]:
    """What a plan takes by stock: whole packs, at the prices of when it was made, each line rounded."""
    currency = current_workshop().currency
    sold = sold_of(row)
    lines = []
    for stock, count in sorted(counts_by_stock(plan).items()):
        packs = sold[stock].packs_for(count)
        cost = round_money(sold[stock].price * packs, currency)
        lines.append(ToOrder(stock, count, packs, cost, min(count, sold[stock].begun)))
    return lines


def sold_of(row: CuttingPlan) -> tuple[Sold, ...]:
    """How each stock of a plan is sold, and what is left of the packs that have been begun."""
    offers = [(one["size"], Decimal(one["pack"]), Decimal(one["price"])) for one in row.stock]
    return sold_as(offers, [bar.size_id for bar in row.sawn.all()])


def cost_still_to_cut(row: CuttingPlan, plan: Plan) -> Decimal:
    """What the stock of a plan costs besides the packs that have been begun."""
    return sum((line.cost for line in to_order(row, plan)), ZERO)


def cost_with_sawn(row: CuttingPlan, plan: Plan) -> Decimal:
    """What is sawn and what is still to be cut cost together; each size is rounded once."""
    amounts: defaultdict[object, Decimal] = defaultdict(Decimal, paid_for_sawn(row))
    for line in to_order(row, plan):
        source = row.stock[line.stock]
        amounts[source["size"] or f"rack {line.stock}"] += Decimal(source["price"]) * line.packs
    currency = current_workshop().currency
    return sum((round_money(amount, currency) for amount in amounts.values()), ZERO)


def paid_for_sawn(row: CuttingPlan) -> dict[object, Decimal]:
    """By size, what the packs cost that the sawn pieces came from: each is paid for once, when begun."""
    sawn: dict[int | None, list[SawnStock]] = defaultdict(list)
    for bar in row.sawn.select_related("size"):
        sawn[bar.size_id].append(bar)
    return {size: _packs_paid(bars) for size, bars in sawn.items()}


def _packs_paid(bars: Sequence[SawnStock]) -> Decimal:
    pack = bars[0].size.pack_quantity if bars[0].size else Decimal(1)
    pieces = whole_packs(Decimal(len(bars)), pack) * pack
    return sum((bar.price for bar in bars), ZERO) * pieces / len(bars)


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
