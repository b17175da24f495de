"""Who pays for what a plan takes? Its cost shared among the phases whose parts it cuts.

Whole units of money, shared by the largest remainder method: the shares add up to the cost exactly.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from .bar_problem import BarPart, BarProblem
from .sheet_problem import SheetPart, SheetProblem


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


def weights_by_phase(problem: BarProblem | SheetProblem) -> dict[str, int]:
    """Length or area that each phase's parts and their kerfs take.

    All phases share all stock alike: which of them came off a free offcut is chance, and no merit.
    """
    weights: dict[str, int] = defaultdict(int)
    for part in problem.parts:
        weights[part.phase] += room_of(part, problem.kerf_mm10) * part.quantity
    return dict(weights)


def room_of(part: BarPart | SheetPart, kerf_mm10: int) -> int:
    """What one part takes of its stock: its length or area with a kerf on it."""
    if isinstance(part, SheetPart):
        return (part.width_mm10 + kerf_mm10) * (part.height_mm10 + kerf_mm10)
    return part.length_mm10 + kerf_mm10
