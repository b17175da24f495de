"""Could a saw carry this plan out? An independent look that trusts nothing the solver says of itself."""

from __future__ import annotations

from collections import Counter

from .bar_plan import BarPlan, CutBar
from .bar_problem import BarProblem


def faults_of(plan: BarPlan, problem: BarProblem) -> list[str]:
    """All that is wrong with a plan for this problem; nothing where it can be cut as it stands."""
    faults = [fault for number, bar in enumerate(plan.bars, 1) for fault in _bar_faults(problem, number, bar)]
    if not faults:
        faults = [
            *_demand_faults(plan, problem),
            *_stock_faults(plan, problem),
            *_claim_faults(plan, problem),
        ]
    return faults


def _bar_faults(problem: BarProblem, number: int, bar: CutBar) -> list[str]:
    if not 0 <= bar.stock < len(problem.stock):
        return [f"bar {number}: there is no stock {bar.stock}"]
    if bar.repeat < 1:
        return [f"bar {number}: repeated {bar.repeat} times"]
    if not bar.parts:
        return [f"bar {number}: nothing is cut from it"]
    if any(not 0 <= part < len(problem.parts) for part in bar.parts):
        return [f"bar {number}: a part that nobody asked for"]
    saw_at = _walk_the_saw(problem, bar)
    stock = problem.stock[bar.stock]
    trim = problem.trim_mm10 if stock.trim_mm10 is None else stock.trim_mm10
    if saw_at > stock.length_mm10 - trim:
        return [f"bar {number}: the parts end at {saw_at}, the bar at {stock.length_mm10 - trim}"]
    return []


def _walk_the_saw(problem: BarProblem, bar: CutBar) -> int:
    """Where the last part ends, measured from the raw end of the bar, part after part."""
    stock = problem.stock[bar.stock]
    at = problem.trim_mm10 if stock.trim_mm10 is None else stock.trim_mm10
    for position, part in enumerate(bar.parts):
        if position:
            at += problem.kerf_mm10
        at += problem.parts[part].length_mm10
    return at


def _demand_faults(plan: BarPlan, problem: BarProblem) -> list[str]:
    made: Counter[int] = Counter()
    for bar in plan.bars:
        for part in bar.parts:
            made[part] += bar.repeat
    return [
        f"part {index}: {made[index]} cut, {part.quantity} asked for"
        for index, part in enumerate(problem.parts)
        if made[index] != part.quantity
    ]


def _stock_faults(plan: BarPlan, problem: BarProblem) -> list[str]:
    taken: Counter[int] = Counter()
    for bar in plan.bars:
        taken[bar.stock] += bar.repeat
    return [
        f"stock {index}: {taken[index]} taken, {stock.quantity} there"
        for index, stock in enumerate(problem.stock)
        if stock.quantity is not None and taken[index] > stock.quantity
    ]


def _claim_faults(plan: BarPlan, problem: BarProblem) -> list[str]:
    """The cost the plan states, summed again, and a bound that may not stand above it."""
    cost = 0
    for bar in plan.bars:
        stock = problem.stock[bar.stock]
        cost += bar.repeat * (stock.cost + stock.keep_value)
    faults = []
    if cost != plan.cost:
        faults.append(f"the plan says it costs {plan.cost}, its bars cost {cost}")
    if plan.bound > cost:
        faults.append(f"the bound {plan.bound} stands above the cost {cost}")
    return faults
