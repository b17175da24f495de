"""Planning anew once some sheets are cut: these stay, the rest is planned from the stock that is left."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from materials.cutting.check_panels import faults_of_sheet
from materials.cutting.faults import CannotCut, Fault
from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.cutting.sheet_plan import CutSheet, Piece, SheetPlan
from materials.cutting.sheet_problem import SheetProblem


@dataclass(frozen=True)
class SheetRemainder:
    """What is still to be cut; its part `n` is part `parts_at[n]` of the whole problem."""

    problem: SheetProblem
    parts_at: tuple[int, ...]


def sheet_remainder(problem: SheetProblem, locked: Sequence[CutSheet]) -> SheetRemainder:
    """The problem without the parts that are cut and without the sheets that are used up.

    Raises CannotCut where the sheets said to be cut do not belong to this problem.
    """
    faults = tuple(_faults(problem, locked))
    if faults:
        raise CannotCut(faults)
    cut, taken = _cut_and_taken(locked)
    parts_at = tuple(at for at, part in enumerate(problem.parts) if part.quantity > cut[at])
    parts = (replace(problem.parts[at], quantity=problem.parts[at].quantity - cut[at]) for at in parts_at)
    stock = (
        each if each.quantity is None else replace(each, quantity=each.quantity - taken[at])
        for at, each in enumerate(problem.stock)
    )
    return SheetRemainder(replace(problem, parts=tuple(parts), stock=tuple(stock)), parts_at)


def replan_sheets(
    problem: SheetProblem, locked: Sequence[CutSheet], search: Search[SheetPlan] | None = None
) -> SheetPlan:
    """A plan for the whole problem that begins with the locked sheets as they are.

    Its bound holds for plans that keep these sheets: without them a cheaper plan may have been possible.
    """
    search = search or Search()
    rest = sheet_remainder(problem, locked)

    def whole(plan: SheetPlan) -> SheetPlan:
        sheets = tuple(_renamed_sheet(sheet, rest.parts_at) for sheet in plan.sheets)
        sunk = SheetPlan(problem, tuple(locked)).cost
        return replace(plan, problem=problem, sheets=(*locked, *sheets), bound=sunk + plan.bound)

    told = replace(search, on_better=lambda plan: search.on_better(whole(plan)))
    return whole(solve_panels(rest.problem, told))


def _renamed_sheet(sheet: CutSheet, parts_at: tuple[int, ...]) -> CutSheet:
    placements = tuple(replace(place, part=parts_at[place.part]) for place in sheet.placements)
    return replace(sheet, placements=placements, root=_renamed_piece(sheet.root, parts_at))


def _renamed_piece(piece: Piece, parts_at: tuple[int, ...]) -> Piece:
    children = tuple(_renamed_piece(child, parts_at) for child in piece.children)
    return replace(piece, children=children, part=None if piece.part is None else parts_at[piece.part])


def _cut_and_taken(locked: Sequence[CutSheet]) -> tuple[Counter[int], Counter[int]]:
    """Pieces cut of each part, and sheets taken of each stock."""
    cut: Counter[int] = Counter()
    taken: Counter[int] = Counter()
    for sheet in locked:
        taken[sheet.stock] += sheet.repeat
        for place in sheet.placements:
            cut[place.part] += sheet.repeat
    return cut, taken


def _faults(problem: SheetProblem, locked: Sequence[CutSheet]) -> Iterator[Fault]:
    for number, sheet in enumerate(locked):
        for message in faults_of_sheet(problem, sheet):
            yield Fault("locked", number, f"Cut sheet {number + 1}: {message}")
    cut, taken = _cut_and_taken(locked)
    for at, part in enumerate(problem.parts):
        if cut[at] > part.quantity:
            name = part.label or f"Part {at + 1}"
            yield Fault("parts", at, f"{name}: {cut[at]} are cut already, {part.quantity} are wanted")
    for at, each in enumerate(problem.stock):
        if each.quantity is not None and taken[at] > each.quantity:
            name = each.label or f"Sheet {at + 1}"
            yield Fault("stock", at, f"{name}: {taken[at]} are cut already, {each.quantity} were on hand")
