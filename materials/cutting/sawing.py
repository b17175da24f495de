"""What came off a bar or sheet that has been cut, and what is left of the plan once it is?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from .bar_plan import leftover_mm10
from .sheet_plan import SheetPlan
from .sheet_problem import SheetProblem
from .stored import Data, Plan, Problem, plan_data, plan_from, problem_data, problem_from
from .uses import uses_of


@dataclass(frozen=True)
class CameOff:
    """Pieces of one part that came off a bar or sheet; `width_mm10` 0 is the full width of a board."""

    part: int
    length_mm10: int
    width_mm10: int
    quantity: int


@dataclass(frozen=True)
class Left:
    """What is left of a bar or sheet and worth keeping."""

    length_mm10: int
    width_mm10: int = 0


def came_off(plan: Plan, index: int) -> tuple[CameOff, ...]:
    """The pieces that one bar or sheet gives."""
    counts = Counter(uses_of(plan)[index].parts)
    return tuple(CameOff(part, *_size(plan.problem, part), count) for part, count in counts.items())


def left_over(plan: Plan, index: int) -> tuple[Left, ...]:
    """What goes back on the rack from one bar or sheet."""
    if isinstance(plan, SheetPlan):
        return tuple(Left(left.width_mm10, left.height_mm10) for left in plan.sheets[index].leftovers)
    length = leftover_mm10(plan.problem, plan.bars[index])
    return (Left(length),) if length >= max(1, plan.problem.least_offcut_mm10) else ()


def rest_of(plan: Plan, index: int, count: int) -> tuple[Plan, tuple[int, ...]]:
    """The plan without so many of one of its bars or sheets, and which of the old parts are still wanted.

    A cheaper way to cut the rest would have been one to cut the whole, so the old bound less what the cut
    stock counts is still a bound.
    """
    use = uses_of(plan)[index]
    cut = Counter({part: use.parts.count(part) * count for part in set(use.parts)})
    problem, found = problem_data(plan.problem), plan_data(plan)
    kept = tuple(at for at, part in enumerate(problem["parts"]) if part["quantity"] > cut[at])
    problem["parts"] = [
        {**problem["parts"][at], "quantity": problem["parts"][at]["quantity"] - cut[at]} for at in kept
    ]
    problem["stock"] = [_less(s, count if at == use.stock else 0) for at, s in enumerate(problem["stock"])]
    found["bound"] = max(0, plan.bound - plan.problem.stock[use.stock].charge * count)
    key = "sheets" if isinstance(plan, SheetPlan) else "bars"
    left = [
        {**one, "repeat": one["repeat"] - (count if at == index else 0)} for at, one in enumerate(found[key])
    ]
    new = {old: number for number, old in enumerate(kept)}
    found[key] = [_renumbered(one, new) for one in left if one["repeat"]]
    return plan_from(problem_from(problem), found), kept


def _less(stock: Data, count: int) -> Data:
    """Stock of which so many are gone; where there is no end of it nothing changes."""
    there = stock["quantity"]
    return stock if there is None else {**stock, "quantity": there - count}


def _renumbered(one: Data, new: Mapping[int, int]) -> Data:
    """A bar or sheet with its parts by their new numbers."""
    if "root" not in one:
        return {**one, "parts": [new[part] for part in one["parts"]]}
    placements = [{**placed, "part": new[placed["part"]]} for placed in one["placements"]]
    return {**one, "placements": placements, "root": _renumbered_piece(one["root"], new)}


def _renumbered_piece(piece: Data, new: Mapping[int, int]) -> Data:
    part = None if piece["part"] is None else new[piece["part"]]
    return {**piece, "part": part, "children": [_renumbered_piece(child, new) for child in piece["children"]]}


def _size(problem: Problem, part: int) -> tuple[int, int]:
    if isinstance(problem, SheetProblem):
        return problem.parts[part].width_mm10, problem.parts[part].height_mm10
    return problem.parts[part].length_mm10, 0
