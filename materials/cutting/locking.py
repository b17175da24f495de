"""Planning anew once some bars are cut: these stay, the rest is planned from the stock that is left."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from .bar_plan import BarPlan, CutBar, rest_mm10
from .bar_problem import BarProblem
from .bars import solve_bars
from .faults import CannotCut, Fault
from .search import Search


@dataclass(frozen=True)
class Remainder:
    """What is still to be cut; its part `n` is part `parts_at[n]` of the whole problem."""

    problem: BarProblem
    parts_at: tuple[int, ...]


def remainder(problem: BarProblem, locked: Sequence[CutBar]) -> Remainder:
    """The problem without the parts that are cut and without the stock that is used up.

    Raises CannotCut where the bars said to be cut do not belong to this problem.
    """
    faults = _faults(problem, locked)
    if faults:
        raise CannotCut(tuple(faults))
    cut, taken = _cut_and_taken(locked)
    parts_at = tuple(at for at, part in enumerate(problem.parts) if part.quantity > cut[at])
    parts = (replace(problem.parts[at], quantity=problem.parts[at].quantity - cut[at]) for at in parts_at)
    stock = (
        item if item.quantity is None else replace(item, quantity=item.quantity - taken[at])
        for at, item in enumerate(problem.stock)
    )
    return Remainder(replace(problem, parts=tuple(parts), stock=tuple(stock)), parts_at)


def replan(problem: BarProblem, locked: Sequence[CutBar], search: Search[BarPlan] | None = None) -> BarPlan:
    """A plan for the whole problem that begins with the locked bars as they are.

    Its bound holds for plans that keep these bars: without them a cheaper plan may have been possible.
    """
    search = search or Search()
    rest = remainder(problem, locked)

    def whole(plan: BarPlan) -> BarPlan:
        bars = (replace(bar, parts=tuple(rest.parts_at[part] for part in bar.parts)) for bar in plan.bars)
        sunk = BarPlan(problem, tuple(locked)).cost
        return replace(plan, problem=problem, bars=(*locked, *bars), bound=sunk + plan.bound)

    told = replace(search, on_better=lambda plan: search.on_better(whole(plan)))
    return whole(solve_bars(rest.problem, told))


def _cut_and_taken(locked: Sequence[CutBar]) -> tuple[Counter[int], Counter[int]]:
    """Pieces cut of each part, and bars taken of each stock."""
    cut: Counter[int] = Counter()
    taken: Counter[int] = Counter()
    for bar in locked:
        taken[bar.stock] += bar.repeat
        for part in bar.parts:
            cut[part] += bar.repeat
    return cut, taken


def _faults(problem: BarProblem, locked: Sequence[CutBar]) -> list[Fault]:
    for at, bar in enumerate(locked):
        known = 0 <= bar.stock < len(problem.stock) and all(0 <= p < len(problem.parts) for p in bar.parts)
        if not known:
            return [Fault("locked", at, f"Bar {at + 1}: cut from or into what this job does not have")]
        if rest_mm10(problem, bar) < 0:
            return [Fault("locked", at, f"Bar {at + 1}: its parts are longer than the bar")]
    cut, taken = _cut_and_taken(locked)
    return [
        *(
            Fault("parts", at, f"{part.label or f'Part {at + 1}'}: {cut[at]} are cut, {part.quantity} needed")
            for at, part in enumerate(problem.parts)
            if cut[at] > part.quantity
        ),
        *(
            Fault(
                "stock", at, f"{item.label or f'Stock {at + 1}'}: {taken[at]} are cut, {item.quantity} there"
            )
            for at, item in enumerate(problem.stock)
            if item.quantity is not None and taken[at] > item.quantity
        ),
    ]
