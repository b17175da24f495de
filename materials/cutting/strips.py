"""A plan of sheets for a maker who would rather cut seldom: strips of one size of part, then crosscuts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from materials.cutting.blocks import ACROSS, UPWARD, Block, FilledBlank, Leaf, stack
from materials.cutting.cut_order import cut_order
from materials.cutting.lay_out import lay_out
from materials.cutting.lying import ways_to_lie
from materials.cutting.sheet_checks import check_sheet_problem
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.sheet_problem import SheetProblem
from materials.cutting.widened import Blank, Shape, Widened, widen


def plan_of_strips(problem: SheetProblem) -> SheetPlan | None:
    """The cheapest size of sheet with strips of one size of part; None if no one size takes them all.

    A rule, not a search: the strips go into the sheets by falling width, each into the first that has room
    (first-fit decreasing). Nothing is claimed of its cost. Raises CannotCut if the problem makes no sense.
    """
    check_sheet_problem(problem)
    if not problem.parts:
        return None
    widened = widen(problem)
    plans = [
        plan
        for index, blank in enumerate(widened.blanks)
        if problem.stock[blank.stock].quantity is None
        for plan in [_plan_from(problem, widened, index)]
        if plan is not None
    ]
    return min(plans, key=SheetPlan.rank, default=None)


def cuts_of(plan: SheetPlan) -> int:
    """How often the saw goes through a sheet or a piece of one, trims and repeats counted."""
    return sum(len(cut_order(plan.problem, sheet)) * sheet.repeat for sheet in plan.sheets)


@dataclass
class _Sheet:
    """The strips of one sheet and the width that is left beside them."""

    room: int
    strips: list[Block]


def _plan_from(problem: SheetProblem, widened: Widened, index: int) -> SheetPlan | None:
    blank = widened.blanks[index]
    strips: list[Block] = []
    for number, shape in enumerate(widened.shapes):
        if not shape.goes_into(blank):
            return None
        strips.extend(_strips(number, shape, blank))
    layout = [FilledBlank(index, stack(UPWARD, sheet.strips)) for sheet in _sheets(strips, blank)]
    return SheetPlan(problem, lay_out(problem, widened, layout), how="strips of one size")


def _strips(number: int, shape: Shape, blank: Blank) -> Iterator[Block]:
    """The shape's pieces in strips as long as the sheet, lying the way that takes the less of its width."""
    leaf = min(ways_to_lie(number, shape, blank), key=lambda leaf: _width_taken(leaf, shape, blank))
    full, rest = divmod(shape.quantity, blank.width // leaf.width)
    for count in [blank.width // leaf.width] * full + [rest] * (rest > 0):
        yield stack(ACROSS, [leaf] * count)


def _width_taken(leaf: Leaf, shape: Shape, blank: Blank) -> int:
    return -(-shape.quantity // (blank.width // leaf.width)) * leaf.height


def _sheets(strips: list[Block], blank: Blank) -> list[_Sheet]:
    sheets: list[_Sheet] = []
    for strip in sorted(strips, key=lambda strip: -strip.height):
        sheet = next((sheet for sheet in sheets if sheet.room >= strip.height), None)
        if sheet is None:
            sheet = _Sheet(blank.height, [])
            sheets.append(sheet)
        sheet.strips.append(strip)
        sheet.room -= strip.height
    return sheets
