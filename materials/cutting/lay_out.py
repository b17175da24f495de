"""Turn a layout of blocks into sheets as they lie on the saw: real sizes, kerfs, cuts and leftovers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from materials.cutting.blocks import ACROSS, UPWARD, Block, FilledBlank, Layout, Leaf
from materials.cutting.sheet_plan import CutDirection, CutSheet, Leftover, Piece, Placement
from materials.cutting.sheet_problem import SheetPart, SheetProblem
from materials.cutting.tidy_blocks import tidy
from materials.cutting.widened import Widened

CUT_OF_AXIS = {ACROSS: CutDirection.CROSSCUT, UPWARD: CutDirection.RIP}

Box = tuple[int, int, int, int]  # x and y in the sheet, then the widened width and height


def lay_out(problem: SheetProblem, widened: Widened, layout: Layout) -> tuple[CutSheet, ...]:
    """The sheets of the layout, those that are cut alike together, the dearest first."""
    supply = [iter(rows) for rows in widened.members]
    dearest_first = sorted(layout, key=lambda filled: -widened.blanks[filled.blank].cost)
    sheets = Counter(_Drawing(problem, widened, supply).sheet(filled) for filled in dearest_first)
    return tuple(replace(sheet, repeat=repeat) for sheet, repeat in sheets.items())


class _Drawing:
    """Draws filled blanks, taking the pieces of each shape from its supply, in the order of entry."""

    def __init__(
        self, problem: SheetProblem, widened: Widened, supply: Sequence[Iterator[tuple[int, ...]]]
    ) -> None:
        self.problem = problem
        self.widened = widened
        self.kerf = widened.kerf
        self.supply = supply

    def sheet(self, filled: FilledBlank) -> CutSheet:
        blank = self.widened.blanks[filled.blank]
        trim = self.problem.stock[blank.stock].trim
        root = self._outermost(
            tidy(filled.block), (trim.left_mm10, trim.bottom_mm10, blank.width, blank.height)
        )
        ends = list(root.leaves())
        placements = tuple(
            Placement(end.part, end.x_mm10, end.y_mm10, end.width_mm10, end.height_mm10, end.turned)
            for end in ends
            if end.part is not None
        )
        leftovers = tuple(
            Leftover(end.x_mm10, end.y_mm10, end.width_mm10, end.height_mm10)
            for end in ends
            if end.part is None and self.problem.is_useful(end.width_mm10, end.height_mm10)
        )
        return CutSheet(blank.stock, root, placements, leftovers)

    def _outermost(self, block: Block, box: Box) -> Piece:
        """The whole sheet, its slack taken off so that the largest single rectangle is left.

        Where either way leaves as much, the rip comes first. Slack too thin to keep is left to the children,
        which saves a stage of cuts.
        """
        _, _, width, height = box
        beside, above = width - block.width, height - block.height
        first = UPWARD if width * above >= beside * height else ACROSS
        for axis in (first, 1 - first):
            if isinstance(block, Leaf) or block.axis == axis:
                continue  # its own cuts take this off
            slack = (beside, above)[axis] - self.kerf
            rest = (slack, height - self.kerf) if axis == ACROSS else (width - self.kerf, slack)
            if self.problem.is_useful(*rest):
                inner = _sliced(box, axis, 0, (block.width, block.height)[axis])
                return self._row(box, axis, [self._draw(block, inner)], (block.width, block.height)[axis])
        return self._draw(block, box)

    def _draw(self, block: Block, box: Box) -> Piece:
        """The piece that fills the box, the block in its corner nearest the origin."""
        if isinstance(block, Leaf):
            row = next(self.supply[block.shape])
            return self._fit(block.width, block.height, box, lambda inner: self._parts(row, block, inner))
        children, at = [], 0
        for child in sorted(block.children, key=_saw_order(block.axis)):
            size = (child.width, child.height)[block.axis]
            children.append(self._draw(child, _sliced(box, block.axis, at, size)))
            at += size
        return self._row(box, block.axis, children, at)

    def _parts(self, row: tuple[int, ...], leaf: Leaf, box: Box) -> Piece:
        """One part as it is, or a family's row cut into its parts."""
        if len(row) == 1:
            part = self.problem.parts[row[0]]
            return self._part(row[0], (leaf.width, leaf.height) != self._widened_size(part), box)
        axis = UPWARD if leaf.turned else ACROSS
        children, at = [], 0
        for index in row:
            part = self.problem.parts[index]
            along, wide = self._widened_size(part)
            width, height = (wide, along) if leaf.turned else (along, wide)
            slot = _sliced(box, axis, at, along)
            children.append(self._fit(width, height, slot, partial(self._part, index, leaf.turned)))
            at += along
        return self._row(box, axis, children, at)

    def _fit(self, width: int, height: int, box: Box, make: Callable[[Box], Piece]) -> Piece:
        """What `make` draws in the box's corner, cut out of the box by at most two cuts."""
        for axis, size in ((ACROSS, width), (UPWARD, height)):
            if box[2 + axis] > size:
                inner = self._fit(width, height, _sliced(box, axis, 0, size), make)
                return self._row(box, axis, [inner], size)
        return make(box)

    def _part(self, index: int, turned: bool, box: Box) -> Piece:
        return replace(self._bare(box), part=index, turned=turned)

    def _widened_size(self, part: SheetPart) -> tuple[int, int]:
        return part.width_mm10 + self.kerf, part.height_mm10 + self.kerf

    def _row(self, box: Box, axis: int, children: list[Piece], used: int) -> Piece:
        """The box parted along the axis into the children and, behind them, what the blade leaves."""
        room = box[2 + axis]
        if room - used > self.kerf:
            children = [*children, self._bare(_sliced(box, axis, used, room - used))]
        if len(children) == 1 and room == used:
            return children[0]
        return replace(self._bare(box), cut=CUT_OF_AXIS[axis], children=tuple(children))

    def _bare(self, box: Box) -> Piece:
        x, y, width, height = box
        return Piece(x, y, width - self.kerf, height - self.kerf)


def _saw_order(axis: int) -> Callable[[Block], tuple[int, int]]:
    """The longest first along the axis, those of one length together: the fence is moved least."""
    return lambda child: (-(child.width, child.height)[axis], -(child.width, child.height)[1 - axis])


def _sliced(box: Box, axis: int, at: int, size: int) -> Box:
    """The slice of the box that starts at `at` and is `size` long along the axis."""
    x, y, width, height = box
    return (x + at, y, size, height) if axis == ACROSS else (x, y + at, width, size)
