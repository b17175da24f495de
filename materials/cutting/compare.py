"""What a plan is worth: its cost beside what simpler ways of buying and cutting would come to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum

from .bar_layouts import plan_with_few_layouts
from .bar_plan import BarPlan
from .bar_problem import BarProblem
from .bars import solve_bars
from .faults import CannotCut
from .panels import solve_panels
from .search import PlanT, Search
from .sheet_plan import SheetPlan
from .sheet_problem import SheetProblem
from .sold import Till, by_the_piece
from .strips import cuts_of, plan_of_strips

ALLOWANCE_PERCENT = 10


class Way(Enum):
    """A simpler way to buy and cut."""

    ALLOWANCE = "what the parts measure, and ten per cent"
    ONE_SIZE = "one size of stock only"
    FEW_LAYOUTS = "as few different layouts as can be"
    STRIPS = "strips of one size of part, for few cuts"


@dataclass(frozen=True)
class Comparison:
    """What one way costs to buy, how many pieces of stock that is, and whether the parts can be cut from it.

    `layouts` is the number of different ways in which a bar is cut, `cuts` how often the saw goes through a
    sheet or a piece of one; None where that isn't planned.
    """

    way: Way
    to_pay: Decimal
    pieces: int
    is_enough: bool
    layouts: int | None = None
    cuts: int | None = None


@dataclass(frozen=True)
class Alone:
    """All parts from one stock: what it measures, and how many of it are taken if there is a plan."""

    stock: int
    measure: int
    pieces: int | None = None
    layouts: int | None = None
    cuts: int | None = None


def compare_bars(
    plan: BarPlan, search: Search[BarPlan] | None = None, till: Till | None = None
) -> tuple[Comparison, ...]:
    """The simpler ways for the parts of this plan, in the time granted; a way not open is left out.

    They cost what the till says; without one, so many pieces at their price.
    """
    search, till = search or Search(seconds=2.0), till or by_the_piece(plan.problem)
    problem = plan.problem
    lasting = [at for at, stock in enumerate(problem.stock) if stock.quantity is None]
    alone = [_bars_alone(problem, at, _share(search, len(lasting) - n)) for n, at in enumerate(lasting)]
    ways = (_by_allowance(plan.used_mm10, alone, till), _one_size(alone, till), _few_layouts(problem, till))
    return tuple(way for way in ways if way is not None)


def compare_sheets(
    plan: SheetPlan, search: Search[SheetPlan] | None = None, till: Till | None = None
) -> tuple[Comparison, ...]:
    """The same for sheets, with strips of one size in place of few layouts."""
    search, till = search or Search(seconds=2.0), till or by_the_piece(plan.problem)
    problem = plan.problem
    lasting = [at for at, stock in enumerate(problem.stock) if stock.quantity is None]
    alone = [_sheets_alone(problem, at, _share(search, len(lasting) - n)) for n, at in enumerate(lasting)]
    ways = (_by_allowance(plan.used_area, alone, till), _one_size(alone, till), _strips(problem, till))
    return tuple(way for way in ways if way is not None)


def _share(search: Search[PlanT], among: int) -> Search[PlanT]:
    """The next of so many equal shares of the time that is left."""
    return Search(seconds=search.seconds_left() / among, should_stop=search.should_stop)


def _bars_alone(problem: BarProblem, at: int, search: Search[BarPlan]) -> Alone:
    stock = problem.stock[at]
    try:
        plan = solve_bars(replace(problem, stock=(stock,)), search)
    except CannotCut:
        return Alone(at, stock.length_mm10)
    return Alone(at, stock.length_mm10, plan.bar_count, len(plan.bars))


def _sheets_alone(problem: SheetProblem, at: int, search: Search[SheetPlan]) -> Alone:
    stock = problem.stock[at]
    area = stock.width_mm10 * stock.height_mm10
    try:
        plan = solve_panels(replace(problem, stock=(stock,)), search)
    except CannotCut:
        return Alone(at, area)
    return Alone(at, area, plan.sheet_count, cuts=cuts_of(plan))


def _by_allowance(used: int, sizes: Sequence[Alone], till: Till) -> Comparison | None:
    """Whole pieces of the size that comes cheapest for the measure and ten per cent."""
    bought = []
    for size in sizes:
        pieces = -(-used * (100 + ALLOWANCE_PERCENT) // (100 * size.measure))
        is_enough = size.pieces is not None and size.pieces <= pieces
        bought.append(Comparison(Way.ALLOWANCE, till.to_pay(size.stock, pieces), pieces, is_enough))
    return min(bought, key=lambda way: way.to_pay, default=None)


def _one_size(sizes: Sequence[Alone], till: Till) -> Comparison | None:
    """The cheapest of the sizes that all parts can be cut from."""
    planned = [
        Comparison(
            Way.ONE_SIZE, till.to_pay(size.stock, size.pieces), size.pieces, True, size.layouts, size.cuts
        )
        for size in sizes
        if size.pieces is not None
    ]
    return min(planned, key=lambda way: way.to_pay, default=None)


def _few_layouts(problem: BarProblem, till: Till) -> Comparison | None:
    plan = plan_with_few_layouts(problem)
    if plan is None:
        return None
    return Comparison(Way.FEW_LAYOUTS, till.for_plan(plan), plan.bar_count, True, len(plan.bars))


def _strips(problem: SheetProblem, till: Till) -> Comparison | None:
    plan = plan_of_strips(problem)
    if plan is None:
        return None
    return Comparison(Way.STRIPS, till.for_plan(plan), plan.sheet_count, True, cuts=cuts_of(plan))
