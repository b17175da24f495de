"""How is a bar drawn: its parts to scale, the cuts in their order, the dimensions, what is left?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from .drawing import MARGIN, MARK_LETTER, Box, CutDrawing, Line, Paper, Scale, Words, text_width


@dataclass(frozen=True)
class BarPiece:
    """A part as it lies in a bar: its mark and length."""

    mark: str
    length_mm10: int


@dataclass(frozen=True)
class BarToDraw:
    """A bar and its parts in the order they are cut, from the left."""

    title: str
    length_mm10: int
    pieces: Sequence[BarPiece]
    kerf_mm10: int
    trim_mm10: int
    keeps_from_mm10: int


BAR_TOP = 150
BAR_HEIGHT = 270
CHAIN = BAR_TOP + BAR_HEIGHT + 60
OVERALL = CHAIN + 200


def draw_bar(bar: BarToDraw, longest_mm10: int, show: Callable[[int], str]) -> CutDrawing:
    """A bar to the scale at which the longest one fills the width: parts, kerfs, trim, leftover, dimensions.

    Above stand the numbers of the cuts in their order, below the chain of dimensions and the whole length.
    `show` writes a length.
    """
    paper = Paper()
    scale = Scale(longest_mm10)
    end = scale.at(bar.length_mm10)
    if bar.trim_mm10:
        paper.boxes.append(_span(scale, 0, bar.trim_mm10, "trim"))
        paper.boxes.append(_span(scale, bar.length_mm10 - bar.trim_mm10, bar.length_mm10, "trim"))
    left_from = _draw_pieces(paper, bar, scale, show)
    _draw_leftover(paper, bar, left_from, scale, show)
    paper.boxes.append(Box(MARGIN, BAR_TOP, end - MARGIN, BAR_HEIGHT, "outline"))
    paper.dimension_across(MARGIN, end, OVERALL, show(bar.length_mm10))
    return CutDrawing(OVERALL + 150, bar.title, tuple(paper.boxes), tuple(paper.lines), tuple(paper.words))


def _span(scale: Scale, start_mm10: int, end_mm10: int, kind: str) -> Box:
    start = scale.at(start_mm10)
    return Box(start, BAR_TOP, scale.at(end_mm10) - start, BAR_HEIGHT, kind)


def _draw_pieces(paper: Paper, bar: BarToDraw, scale: Scale, show: Callable[[int], str]) -> int:
    """Draw the parts and the cuts between them; returns where the leftover begins."""
    at, cuts = bar.trim_mm10, 0
    if bar.trim_mm10:
        cuts += 1
        _draw_cut(paper, scale, at - min(at, bar.kerf_mm10), at, cuts)
    end = bar.length_mm10 - bar.trim_mm10
    for piece in bar.pieces:
        box = _span(scale, at, at + piece.length_mm10, "part")
        paper.boxes.append(box)
        if text_width(piece.mark, MARK_LETTER) <= box.width:
            paper.words.append(Words(box.middle, BAR_TOP + BAR_HEIGHT // 2 + 50, piece.mark, "mark"))
        paper.dimension_across(box.x, box.x + box.width, CHAIN, show(piece.length_mm10))
        at += piece.length_mm10
        if at < end or bar.trim_mm10:
            cuts += 1
            _draw_cut(paper, scale, at, min(bar.length_mm10, at + bar.kerf_mm10), cuts)
            at += bar.kerf_mm10
    return at


def _draw_cut(paper: Paper, scale: Scale, start_mm10: int, end_mm10: int, number: int) -> None:
    """The kerf as a black stripe, and the number of the cut above it where there is room for it."""
    box = _span(scale, start_mm10, end_mm10, "kerf")
    paper.boxes.append(Box(box.x, box.y, max(6, box.width), box.height, "kerf"))
    paper.lines.append(Line(box.x, BAR_TOP - 30, box.x, BAR_TOP, "dimension"))
    previous = max((w.x + text_width(w.text) // 2 for w in paper.words if w.kind == "cut"), default=0)
    text = str(number)
    if box.x - text_width(text) // 2 >= previous:
        paper.words.append(Words(box.x, BAR_TOP - 50, text, "cut"))


def _draw_leftover(
    paper: Paper, bar: BarToDraw, start_mm10: int, scale: Scale, show: Callable[[int], str]
) -> None:
    end = bar.length_mm10 - bar.trim_mm10
    length = end - start_mm10
    if length <= 0:
        return
    keep = length >= max(1, bar.keeps_from_mm10)
    box = _span(scale, start_mm10, end, "keep" if keep else "left")
    paper.boxes.append(box)
    paper.dimension_across(box.x, box.x + box.width, CHAIN, show(length))
    if keep and box.width >= text_width("keep"):
        wide = text_width("keep") + 40
        paper.boxes.append(Box(box.middle - wide // 2, BAR_TOP + 55, wide, 160, "plate"))
        paper.words.append(Words(box.middle, BAR_TOP + BAR_HEIGHT // 2 + 40, "keep", "figure"))
