"""Where does each line of a drawing fall on paper, dimensions and all?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from materials.takeoff.drawing import Dimension, Drawing, Path, Spot

WIDEST, HIGHEST = 420.0, 360.0
ROW = 26.0
EDGE = 14.0
TICK = 3.0
LETTER = 6.6
"""About how wide a figure of the dimensions is; a dimension narrower than its figures leaves them out."""


@dataclass(frozen=True)
class Line:
    """A path as the drawing's language writes it, with what it is."""

    d: str
    stroke: str


@dataclass(frozen=True)
class Word:
    """A word in its place; `turned` reads upwards."""

    x: float
    y: float
    text: str
    turned: bool = False


@dataclass(frozen=True)
class Sheet:
    """A drawing on paper: its size, lines, dimension lines, dimension figures and labels."""

    width: float
    height: float
    lines: tuple[Line, ...]
    dimensions: tuple[Line, ...]
    figures: tuple[Word, ...]
    labels: tuple[Word, ...]
    title: str


@dataclass(frozen=True)
class _Frame:
    """The scale, where the drawing begins, and how far apart dimension lines at the left stand."""

    scale: float
    left: float
    bottom: float
    beside: float = ROW

    def x(self, across: int) -> float:
        return self.left + across * self.scale

    def y(self, up: int) -> float:
        return self.bottom - up * self.scale


def lay_on_paper(drawing: Drawing) -> Sheet:
    """Scale a drawing to fit, its dimensions in rows below and at the left."""
    wide, high = max(drawing.width_mm10, 1), max(drawing.height_mm10, 1)
    scale = min(WIDEST / wide, HIGHEST / high)
    beside = _beside(drawing.dimensions, scale)
    left = EDGE + beside * _rows(drawing.dimensions, across=False)
    below = EDGE + ROW * _rows(drawing.dimensions, across=True)
    top = EDGE + (8.0 if drawing.labels else 0.0)
    frame = _Frame(scale, left, top + high * scale, beside)
    figures = [_figure(dimension, frame) for dimension in drawing.dimensions if _is_written(dimension, scale)]
    return Sheet(
        width=round(left + wide * scale + EDGE, 1),
        height=round(top + high * scale + below, 1),
        lines=tuple(Line(_path(path, frame), str(path.stroke)) for path in drawing.paths),
        dimensions=tuple(Line(_dimension(each, frame), "dimension") for each in drawing.dimensions),
        figures=tuple(figures),
        labels=tuple(_label(label.at, label.text, frame) for label in drawing.labels),
        title=drawing.title,
    )


def _beside(dimensions: Iterable[Dimension], scale: float) -> float:
    """Room at the left for the longest figures that lie level there, such as 4 7/16"."""
    level = [len(each.text) for each in dimensions if not each.across and not _has_room(each, scale)]
    return max([ROW, *(LETTER * length + 2 * TICK for length in level)])


def _rows(dimensions: Iterable[Dimension], *, across: bool) -> int:
    return max((each.row + 1 for each in dimensions if each.across is across), default=0)


def _is_written(dimension: Dimension, scale: float) -> bool:
    """A short upright dimension still has room for its figures beside it; a short level one has none."""
    return _has_room(dimension, scale) or not dimension.across


def _has_room(dimension: Dimension, scale: float) -> bool:
    return abs(dimension.end_mm10 - dimension.start_mm10) * scale >= LETTER * len(dimension.text)


def _path(path: Path, frame: _Frame) -> str:
    spots = " ".join(f"{_short(frame.x(x))} {_short(frame.y(y))}" for x, y in path.spots)
    return f"M{spots}Z" if path.closed else f"M{spots}"


def _short(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _offset(dimension: Dimension, pitch: float = ROW) -> float:
    return pitch * dimension.row + ROW / 2


def _dimension(dimension: Dimension, frame: _Frame) -> str:
    """A line between two ticks."""
    if dimension.across:
        level = frame.bottom + _offset(dimension)
        start, end = frame.x(dimension.start_mm10), frame.x(dimension.end_mm10)
        ticks = (f"M{_short(x)} {_short(level - TICK)}V{_short(level + TICK)}" for x in (start, end))
        return f"M{_short(start)} {_short(level)}H{_short(end)}" + "".join(ticks)
    level = frame.left - _offset(dimension, frame.beside)
    start, end = frame.y(dimension.start_mm10), frame.y(dimension.end_mm10)
    ticks = (f"M{_short(level - TICK)} {_short(y)}H{_short(level + TICK)}" for y in (start, end))
    return f"M{_short(level)} {_short(start)}V{_short(end)}" + "".join(ticks)


def _figure(dimension: Dimension, frame: _Frame) -> Word:
    middle = (dimension.start_mm10 + dimension.end_mm10) / 2
    if dimension.across:
        x, y = frame.left + middle * frame.scale, frame.bottom + _offset(dimension) - TICK
        return Word(round(x, 1), round(y, 1), dimension.text)
    x, y = frame.left - _offset(dimension, frame.beside) - TICK, frame.bottom - middle * frame.scale
    if _has_room(dimension, frame.scale):
        return Word(round(x, 1), round(y, 1), dimension.text, turned=True)
    return Word(round(x - LETTER * len(dimension.text) / 2, 1), round(y + 4, 1), dimension.text)


def _label(at: Spot, text: str, frame: _Frame) -> Word:
    return Word(round(frame.x(at[0]), 1), round(frame.y(at[1]) - 7, 1), text)
