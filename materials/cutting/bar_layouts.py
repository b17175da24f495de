"""A plan for a maker who would rather set the stop seldom: few layouts, each repeated on many bars."""

from __future__ import annotations

from .bar_fill import LARGEST_BITSET, closest_fill
from .bar_plan import BarPlan
from .bar_problem import BarProblem, check_problem
from .cut_model import CutModel, Filling, model_of, plan_from

FULL_ENOUGH_PERCENT = 92


def plan_with_few_layouts(problem: BarProblem) -> BarPlan | None:
    """The layout that repeats most often first, then of what is left; None if no one stock takes all parts.

    A rule, not a search: one stock length, and a layout is taken when its bars are full enough or when it
    can be cut but once. Nothing is claimed of its cost.
    """
    check_problem(problem)
    if not problem.parts:
        return None
    model = model_of(problem)
    takes_all = [
        s for s in model.stock_order if model.limits[s] is None and model.rooms[s] >= model.lengths[0]
    ]
    if not takes_all or model.largest_room > LARGEST_BITSET:
        return None
    plans = (plan_from(problem, _layouts(model, stock), 0, 0.0, "few layouts") for stock in takes_all)
    return min(plans, key=lambda plan: (len(plan.bars), plan.to_pay))


def _layouts(model: CutModel, stock: int) -> list[Filling]:
    left, room = list(model.demand), model.rooms[stock]
    fillings = []
    times = max(left)
    while any(left):
        times = min(times, max(left))
        chosen = closest_fill(model.lengths, [count // times for count in left], room)
        is_full = 100 * model.size_of(chosen) >= FULL_ENOUGH_PERCENT * room
        if chosen and (is_full or times == 1):
            fillings.append(Filling(stock, tuple(chosen), times))
            for i in chosen:
                left[i] -= times
        elif times > 1:
            times -= 1
    return fillings
