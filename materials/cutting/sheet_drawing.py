"""How is a sheet drawn: parts where they lie, the cuts in their order, the dimensions, what is left?

The drawing stands as the sheet lies at the saw: the origin at the lower left, the grain across.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from .cut_order import SawCut
from .drawing import MARGIN, MARK_LETTER, Box, CutDrawing, Paper, Scale, Words, text_width
from .sheet_plan import CutDirection, CutSheet, Piece
from .sheet_problem import SheetStock

LEFT = 260
TOP = 60
TWO_LINES = 330
ONE_LINE = 150
PLATE = 70


@dataclass(frozen=True)
class SheetToDraw:
    """A sheet, its cuts in order, and the mark of each part. Trims are cut but not numbered."""

    title: str
    stock: SheetStock
    sheet: CutSheet
    cuts: Sequence[SawCut]
    marks: Sequence[str]
    kerf_mm10: int


def draw_sheet(drawn: SheetToDraw, longest_mm10: int, show: Callable[[int], str]) -> CutDrawing:
    """A sheet to the scale at which the longest one fills the width. `show` writes a length."""
    pen = _Pen(Paper(), Scale(longest_mm10, LEFT), drawn.stock, show)
    pen.trim()
    useful = {(left.x_mm10, left.y_mm10) for left in drawn.sheet.leftovers}
    for leaf in drawn.sheet.root.leaves():
        if leaf.part is not None:
            pen.part(leaf, drawn.marks[leaf.part])
        else:
            pen.left(leaf, keep=(leaf.x_mm10, leaf.y_mm10) in useful)
    cuts = [cut for cut in drawn.cuts if cut.stage]
    for cut in cuts:
        pen.kerf(cut, drawn.kerf_mm10)
    for cut in cuts:
        pen.number(cut)
    return pen.finish(drawn.title)


class _Pen:
    """Draws on paper what lies on a sheet; y grows upward on the sheet and downward on paper."""

    def __init__(self, paper: Paper, scale: Scale, stock: SheetStock, show: Callable[[int], str]) -> None:
        self.paper = paper
        self.scale = scale
        self.stock = stock
        self.show = show
        self.taken: list[Box] = []

    def box(self, x: int, y: int, width: int, height: int, kind: str) -> Box:
        """A rectangle of the sheet as drawn."""
        left, right = self.scale.at(x), self.scale.at(x + width)
        top, bottom = self.down(y + height), self.down(y)
        return Box(left, top, right - left, bottom - top, kind)

    def down(self, y_mm10: int) -> int:
        return TOP + self.scale.span(self.stock.height_mm10) - self.scale.span(y_mm10)

    def trim(self) -> None:
        stock, trim = self.stock, self.stock.trim
        width, height = stock.width_mm10, stock.height_mm10
        strips = (
            (0, 0, width, trim.bottom_mm10),
            (0, height - trim.top_mm10, width, trim.top_mm10),
            (0, 0, trim.left_mm10, height),
            (width - trim.right_mm10, 0, trim.right_mm10, height),
        )
        self.paper.boxes += [self.box(*strip, "trim") for strip in strips if strip[2] and strip[3]]

    def part(self, leaf: Piece, mark: str) -> None:
        box = self.box(leaf.x_mm10, leaf.y_mm10, leaf.width_mm10, leaf.height_mm10, "part")
        self.paper.boxes.append(box)
        self.write(_label(box, mark, self._size(leaf)))

    def left(self, leaf: Piece, *, keep: bool) -> None:
        kind = "keep" if keep else "left"
        box = self.box(leaf.x_mm10, leaf.y_mm10, leaf.width_mm10, leaf.height_mm10, kind)
        self.paper.boxes.append(box)
        words = _label(box, "keep", self._size(leaf)) if keep else []
        self.write([Words(w.x, w.y, w.text, "figure", w.upright) for w in words])
        self.paper.boxes += [_within(box, _around(word)) for word in words]

    def write(self, words: list[Words]) -> None:
        """Words whose place the numbers of cuts keep clear of."""
        self.paper.words += words
        self.taken += [_around(word) for word in words]

    def _size(self, leaf: Piece) -> str:
        return f"{self.show(leaf.width_mm10)} × {self.show(leaf.height_mm10)}"

    def kerf(self, cut: SawCut, kerf_mm10: int) -> None:
        """The stripe that the blade turns to dust, on the far side of what the cut frees."""
        (x, y), (end_x, end_y) = cut.start, cut.end
        if cut.direction is CutDirection.RIP:
            box = self.box(x, y, end_x - x, min(kerf_mm10, self.stock.height_mm10 - y), "kerf")
            self.paper.boxes.append(Box(box.x, box.y, box.width, max(6, box.height), "kerf"))
        else:
            box = self.box(x, y, min(kerf_mm10, self.stock.width_mm10 - x), end_y - y, "kerf")
            self.paper.boxes.append(Box(box.x, box.y, max(6, box.width), box.height, "kerf"))

    def number(self, cut: SawCut) -> None:
        """The number of a cut on its line near where the saw enters, or beside it if that is taken."""
        for x, y in self._spots(cut):
            plate = Box(x - PLATE, y - PLATE, 2 * PLATE, 2 * PLATE, "number")
            if not any(_overlap(plate, taken) for taken in self.taken):
                self.taken.append(plate)
                self.paper.boxes.append(plate)
                self.paper.words.append(Words(x, y + 33, str(cut.number), "cut"))
                return

    def _spots(self, cut: SawCut) -> Iterator[tuple[int, int]]:
        """Where the number may stand: along the line, then to either side of it."""
        x, y = self.scale.at(cut.start[0]), self.down(cut.start[1])
        length = self.scale.span(cut.end[0] - cut.start[0] + cut.end[1] - cut.start[1])
        steps = range(min(PLATE + 30, length // 2), max(length - PLATE, length // 2 + 1), PLATE // 2)
        for aside in (0, -PLATE, PLATE, -2 * PLATE, 2 * PLATE, -3 * PLATE, 3 * PLATE):
            for along in steps:
                is_rip = cut.direction is CutDirection.RIP
                yield (x + along, y + aside) if is_rip else (x + aside, y - along)

    def finish(self, title: str) -> CutDrawing:
        stock = self.stock
        self.paper.boxes.append(self.box(0, 0, stock.width_mm10, stock.height_mm10, "outline"))
        bottom = self.down(0)
        right = self.scale.at(stock.width_mm10)
        self.paper.dimension_across(LEFT, right, bottom + 80, self.show(stock.width_mm10))
        self.paper.dimension_up(self.down(stock.height_mm10), bottom, LEFT - 80, self.show(stock.height_mm10))
        return self.paper.drawing(bottom + 240 + MARGIN, title)


def _around(word: Words) -> Box:
    """The room that a word takes."""
    half = text_width(word.text) // 2 + 10
    if word.upright:
        return Box(word.x - 110, word.y - half, 145, 2 * half, "plate")
    return Box(word.x - half, word.y - 110, 2 * half, 145, "plate")


def _within(box: Box, other: Box) -> Box:
    """The part of the other box that lies in the first, clear of its edges."""
    left, top = max(box.x + 10, other.x), max(box.y + 10, other.y)
    right = min(box.x + box.width - 10, other.x + other.width)
    bottom = min(box.y + box.height - 10, other.y + other.height)
    return Box(left, top, right - left, bottom - top, other.kind)


def _overlap(one: Box, other: Box) -> bool:
    across = one.x < other.x + other.width and other.x < one.x + one.width
    return across and one.y < other.y + other.height and other.y < one.y + one.height


def _label(box: Box, mark: str, size: str) -> list[Words]:
    """Mark and size in the middle of a part, in the largest way that has room; nothing in a sliver."""
    across, down = box.middle, box.y + box.height // 2
    wide, mark_wide = text_width(size), text_width(mark, MARK_LETTER)
    line = f"{mark}  {size}"
    if box.height >= TWO_LINES and box.width >= max(wide, mark_wide):
        return [Words(across, down - 20, mark, "mark"), Words(across, down + 120, size, "figure")]
    if box.height >= ONE_LINE and box.width >= text_width(line):
        return [Words(across, down + 40, line, "figure")]
    if box.width >= ONE_LINE and box.height >= text_width(line):
        return [Words(across + 40, down, line, "figure", upright=True)]
    if box.width >= mark_wide and box.height >= ONE_LINE:
        return [Words(across, down + 50, mark, "mark")]
    return []
