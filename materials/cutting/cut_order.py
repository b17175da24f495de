"""In what order is a sheet sawn, and how is the fence set for each cut?

The trims come first, then stage by stage: all the cuts one way through the whole sheet, then the pieces that
they leave are turned and cut the other way. Within a stage the piece that can be cut with the fence as it
stands comes next, so that the fence is moved seldom.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from materials.cutting.sheet_plan import CutDirection, CutSheet, Piece
from materials.cutting.sheet_problem import SheetProblem


@dataclass(frozen=True)
class SawCut:
    """One pass of the saw.

    `fence_mm10` is the distance from fence to blade: the size of what comes off between them. The blade
    runs from `start` to `end` (x, y in the sheet) along the near side of its kerf. `stage` counts from 1, a
    trim is stage 0. `frees` is the piece that lies against the fence, None for a trim, which frees but dust
    and edge. `moves_fence` says that the cut before was made with another setting or the other way.
    """

    number: int
    stage: int
    direction: CutDirection
    fence_mm10: int
    start: tuple[int, int]
    end: tuple[int, int]
    frees: Piece | None = None
    moves_fence: bool = True


def cut_order(problem: SheetProblem, sheet: CutSheet) -> tuple[SawCut, ...]:
    """The cuts of one sheet, numbered from 1."""
    cuts = [*_trim_cuts(problem, sheet), *_stage_cuts(sheet.root)]
    numbered = []
    setting: tuple[CutDirection, int] | None = None
    for number, cut in enumerate(cuts, start=1):
        now = (cut.direction, cut.fence_mm10)
        numbered.append(replace(cut, number=number, moves_fence=now != setting))
        setting = now
    return tuple(numbered)


def _trim_cuts(problem: SheetProblem, sheet: CutSheet) -> Iterator[SawCut]:
    """A cut for each side that is trimmed: the fence stands at what stays."""
    stock = problem.stock[sheet.stock]
    trim, width, height = stock.trim, stock.width_mm10, stock.height_mm10
    rip, cross = CutDirection.RIP, CutDirection.CROSSCUT
    left, right = trim.left_mm10, width - trim.right_mm10
    bottom, top = trim.bottom_mm10, height - trim.top_mm10
    if trim.bottom_mm10:
        yield SawCut(0, 0, rip, height - bottom, (0, bottom), (width, bottom))
    if trim.top_mm10:
        yield SawCut(0, 0, rip, top - bottom, (0, top), (width, top))
    if trim.left_mm10:
        yield SawCut(0, 0, cross, width - left, (left, bottom), (left, top))
    if trim.right_mm10:
        yield SawCut(0, 0, cross, right - left, (right, bottom), (right, top))


def _stage_cuts(root: Piece) -> Iterator[SawCut]:
    waiting, stage = [root], 1
    while waiting:
        waiting = [piece for piece in waiting if piece.cut is not None]
        setting = None
        after: list[Piece] = []
        while waiting:
            piece = waiting.pop(_next_piece(waiting, setting))
            for cut in _cuts_through(piece, stage):
                yield cut
                setting = (cut.direction, cut.fence_mm10)
            after.extend(piece.children)
        waiting, stage = after, stage + 1


def _next_piece(waiting: list[Piece], setting: tuple[CutDirection, int] | None) -> int:
    """The first piece that can be cut as the fence stands, else the first that is cut the same way."""
    firsts = [(piece.cut, _along(piece, piece.children[0])) for piece in waiting]
    if setting in firsts:
        return firsts.index(setting)
    ways = [way for way, _ in firsts]
    return ways.index(setting[0]) if setting is not None and setting[0] in ways else 0


def _cuts_through(piece: Piece, stage: int) -> Iterator[SawCut]:
    """Each child is cut off against the fence; the last needs no cut where it ends at the piece's edge."""
    assert piece.cut is not None
    right, top = piece.x_mm10 + piece.width_mm10, piece.y_mm10 + piece.height_mm10
    for child in piece.children:
        if piece.cut is CutDirection.RIP:
            at = child.y_mm10 + child.height_mm10
            start, end, ends_there = (piece.x_mm10, at), (right, at), at == top
        else:
            at = child.x_mm10 + child.width_mm10
            start, end, ends_there = (at, piece.y_mm10), (at, top), at == right
        if not ends_there:
            yield SawCut(0, stage, piece.cut, _along(piece, child), start, end, frees=child)


def _along(piece: Piece, child: Piece) -> int:
    return child.height_mm10 if piece.cut is CutDirection.RIP else child.width_mm10
