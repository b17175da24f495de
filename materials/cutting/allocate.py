"""Who pays for what a plan takes? Its cost shared among the phases whose parts it cuts.

Whole units of money, shared by the largest remainder method: the shares add up to the cost exactly.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from .bar_plan import BarPlan
from .sheet_plan import SheetPlan


def share_out(total: int, weights: Mapping[str, int]) -> dict[str, int]:
    """Share a total in proportion to weights, in whole units that add up to it.

    What rounding down leaves over goes, one unit each, to the largest remainders, among equals to those
    named first. Weights that are all nothing share equally. A total below nothing is shared as its mirror.

    >>> share_out(100, {"walls": 1, "floor": 1, "bunk": 1})
    {'walls': 34, 'floor': 33, 'bunk': 33}
    """
    if not weights:
        if total:
            raise ValueError("a cost cannot be shared among nobody")
        return {}
    if min(weights.values()) < 0:
        raise ValueError("a share cannot have a weight below nothing")
    if not any(weights.values()):
        weights = dict.fromkeys(weights, 1)
    whole, sign = sum(weights.values()), -1 if total < 0 else 1
    exact = {name: divmod(abs(total) * weight, whole) for name, weight in weights.items()}
    over = abs(total) - sum(units for units, _ in exact.values())
    favoured = set(sorted(exact, key=lambda name: -exact[name][1])[:over])
    return {name: sign * (units + (name in favoured)) for name, (units, _) in exact.items()}


def bar_cost_by_phase(plan: BarPlan) -> dict[str, int]:
    """What the bars cost to buy, by phase, in proportion to the length its parts and their kerfs take.

    All phases share all bars alike: which of them came off a free offcut is chance, and no merit.
    """
    weights: dict[str, int] = defaultdict(int)
    for part in plan.problem.parts:
        weights[part.phase] += (part.length_mm10 + plan.problem.kerf_mm10) * part.quantity
    return share_out(plan.to_pay, weights)


def sheet_cost_by_phase(plan: SheetPlan) -> dict[str, int]:
    """What the sheets cost to buy, by phase, in proportion to the area its parts and their kerfs take."""
    kerf = plan.problem.kerf_mm10
    weights: dict[str, int] = defaultdict(int)
    for part in plan.problem.parts:
        weights[part.phase] += (part.width_mm10 + kerf) * (part.height_mm10 + kerf) * part.quantity
    return share_out(plan.to_pay, weights)
