"""How is each bar or sheet of a kept plan drawn, and the same in words?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.lengths import System, format_length
from jobs.workshop import current_workshop
from materials.cutting.bar_drawing import BarPiece, BarToDraw, draw_bar
from materials.cutting.bar_plan import BarPlan, leftover_mm10
from materials.cutting.cut_order import SawCut, cut_order
from materials.cutting.drawing import CutDrawing
from materials.cutting.sheet_drawing import SheetToDraw, draw_sheet
from materials.cutting.sheet_plan import SheetPlan
from materials.cutting.stored import Plan
from materials.models import CuttingPlan

MOST_BOXES = 12
"""As many boxes to tick as stand in a line beside what they are of."""


@dataclass(frozen=True)
class Step:
    """What is done at the saw, in order: so many of a mark, or a cut to a size."""

    what: str
    size: str
    count: int = 1


@dataclass(frozen=True)
class OnPage:
    """Bars or sheets cut alike: their drawing, and the same in words. `left` are the pieces worth keeping."""

    index: int
    number: str
    repeat: int
    words: str
    is_offcut: bool
    drawing: CutDrawing
    steps: tuple[Step, ...]
    keep: tuple[str, ...]
    waste: str = ""

    @property
    def boxes(self) -> range:
        """One to tick for each bar or sheet; of many alike the count is written instead."""
        return range(self.repeat if self.repeat <= MOST_BOXES else 0)


def show(length_mm10: int) -> str:
    """A length as it stands in a drawing: without its unit."""
    return format_length(length_mm10, System(current_workshop().measurement), unit=False)


def drawn(row: CuttingPlan, plan: Plan) -> tuple[OnPage, ...]:
    """Every bar or sheet to one scale, numbered through: 1 to 3 where three are cut alike."""
    if isinstance(plan, SheetPlan):
        widths = [plan.problem.stock[sheet.stock].width_mm10 for sheet in plan.sheets]
        longest = max(widths, default=1)
        numbers = numbers_of(sheet.repeat for sheet in plan.sheets)
        return tuple(_sheet_on_page(row, plan, at, number, longest) for at, number in enumerate(numbers))
    longest = max((plan.problem.stock[bar.stock].length_mm10 for bar in plan.bars), default=1)
    numbers = numbers_of(bar.repeat for bar in plan.bars)
    return tuple(_bar_on_page(row, plan, at, number, longest) for at, number in enumerate(numbers))


def numbers_of(repeats: Iterable[int]) -> list[str]:
    """Bars or sheets numbered through: 1–3, 4, 5–6 for repeats of 3, 1 and 2."""
    numbers, first = [], 1
    for repeat in repeats:
        last = first + repeat - 1
        numbers.append(f"{first}" if first == last else f"{first}–{last}")
        first = last + 1
    return numbers


def _bar_on_page(row: CuttingPlan, plan: BarPlan, at: int, number: str, longest: int) -> OnPage:
    problem, bar = plan.problem, plan.bars[at]
    stock = problem.stock[bar.stock]
    pieces = [BarPiece(row.marks[part], problem.parts[part].length_mm10) for part in bar.parts]
    to_draw = BarToDraw(
        title=f"Bar {number}, {stock.label}: {', '.join(piece.mark for piece in pieces)}",
        length_mm10=stock.length_mm10,
        pieces=pieces,
        kerf_mm10=problem.kerf_mm10,
        trim_mm10=problem.trim_of(stock),
        keeps_from_mm10=problem.least_offcut_mm10,
    )
    left = leftover_mm10(problem, bar)
    keeps = left >= max(1, problem.least_offcut_mm10)
    return OnPage(
        index=at,
        number=number,
        repeat=bar.repeat,
        words=stock.label,
        is_offcut=bool(row.stock[bar.stock]["offcut"]),
        drawing=draw_bar(to_draw, longest, show),
        steps=_bar_steps(pieces),
        keep=(show(left),) if keeps else (),
        waste=show(left) if left and not keeps else "",
    )


def _bar_steps(pieces: list[BarPiece]) -> tuple[Step, ...]:
    """The parts in the order they are cut; equal neighbours are counted."""
    steps: list[Step] = []
    for piece in pieces:
        if steps and steps[-1].what == piece.mark:
            steps[-1] = Step(piece.mark, steps[-1].size, steps[-1].count + 1)
        else:
            steps.append(Step(piece.mark, show(piece.length_mm10)))
    return tuple(steps)


def _sheet_on_page(row: CuttingPlan, plan: SheetPlan, at: int, number: str, longest: int) -> OnPage:
    problem, sheet = plan.problem, plan.sheets[at]
    stock = problem.stock[sheet.stock]
    cuts = cut_order(problem, sheet)
    to_draw = SheetToDraw(
        title=f"Sheet {number}, {stock.label}, {len(sheet.placements)} parts, {len(cuts)} cuts",
        stock=stock,
        sheet=sheet,
        cuts=cuts,
        marks=row.marks,
        kerf_mm10=problem.kerf_mm10,
    )
    return OnPage(
        index=at,
        number=number,
        repeat=sheet.repeat,
        words=stock.label,
        is_offcut=bool(row.stock[sheet.stock]["offcut"]),
        drawing=draw_sheet(to_draw, longest, show),
        steps=_sheet_steps(cuts),
        keep=tuple(f"{show(left.width_mm10)} × {show(left.height_mm10)}" for left in sheet.leftovers),
    )


def _sheet_steps(cuts: Iterable[SawCut]) -> tuple[Step, ...]:
    """The cuts in their order; those made as the fence stands are one step."""
    settings: list[list[SawCut]] = []
    for cut in cuts:
        if cut.moves_fence or not settings:
            settings.append([])
        settings[-1].append(cut)
    return tuple(_fence_step(group) for group in settings)


def _fence_step(cuts: list[SawCut]) -> Step:
    first, last = cuts[0], cuts[-1]
    numbers = f"{first.number}" if first is last else f"{first.number}–{last.number}"
    way = first.direction.value if first.stage else "trim"
    return Step(f"{numbers} {way}", show(first.fence_mm10))
