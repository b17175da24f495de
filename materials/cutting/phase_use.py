"""Which phase bears how much of what the bars and sheets cost?

Each bar is borne by the phases whose parts come from it, in proportion to the length or area of their parts,
so that waste follows use. Weights are exact; money is rounded only where they are turned into shares.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction

from .sheet_plan import SheetPlan
from .sheet_problem import SheetProblem
from .stored import Plan, Problem


@dataclass(frozen=True)
class Use:
    """Bars or sheets cut alike: which stock, which parts come from one, how many there are."""

    stock: int
    parts: tuple[int, ...]
    repeat: int


def uses_of(plan: Plan) -> tuple[Use, ...]:
    """What a plan takes, bars and sheets alike."""
    if isinstance(plan, SheetPlan):
        return tuple(Use(s.stock, tuple(p.part for p in s.placements), s.repeat) for s in plan.sheets)
    return tuple(Use(bar.stock, bar.parts, bar.repeat) for bar in plan.bars)


def size_of_part(problem: Problem, part: int) -> int:
    """Length of a bar's part, area of a sheet's."""
    if isinstance(problem, SheetProblem):
        return problem.parts[part].width_mm10 * problem.parts[part].height_mm10
    return problem.parts[part].length_mm10


def _taken(problem: Problem, use: Use) -> dict[str, int]:
    taken: dict[str, int] = defaultdict(int)
    for part in use.parts:
        taken[problem.parts[part].phase] += size_of_part(problem, part)
    return dict(taken)


def weights_by_stock(plan: Plan) -> dict[int, dict[str, Fraction]]:
    """For each stock that the plan takes, how many of it each phase uses up, exactly.

    The numbers of one stock add up to how many of it are taken.
    """
    weights: dict[int, dict[str, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
    for use in uses_of(plan):
        taken = _taken(plan.problem, use)
        whole = sum(taken.values())
        for phase, size in taken.items():
            weights[use.stock][phase] += use.repeat * Fraction(size, whole)
    return {stock: dict(by_phase) for stock, by_phase in weights.items()}
