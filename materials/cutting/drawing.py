"""Where does each line and word of a cutting drawing stand?

A drawing is 4,000 units wide, so that whole units are finer than a pen: a unit is a tenth of a pixel where
the drawing is shown 400 px wide, as on a phone. Everything on one page is drawn to one scale.
"""

from __future__ import annotations

from dataclasses import dataclass, field

WIDTH = 4000
MARGIN = 30
LETTER = 62
"""Width of a figure or letter at the size that dimensions are written in (110 units high)."""
MARK_LETTER = 90
HATCH_STEP = 70
OVER = ("plate", "number", "outline")


@dataclass(frozen=True)
class Box:
    """A rectangle; `kind` says which pen draws it."""

    x: int
    y: int
    width: int
    height: int
    kind: str

    @property
    def middle(self) -> int:
        """Half way across."""
        return self.x + self.width // 2


@dataclass(frozen=True)
class Line:
    """A straight line."""

    x1: int
    y1: int
    x2: int
    y2: int
    kind: str


@dataclass(frozen=True)
class Words:
    """Words centred on a spot; `upright` ones read from below to above."""

    x: int
    y: int
    text: str
    kind: str
    upright: bool = False


@dataclass(frozen=True)
class CutDrawing:
    """One bar or one sheet as drawn."""

    height: int
    title: str
    boxes: tuple[Box, ...] = ()
    lines: tuple[Line, ...] = ()
    words: tuple[Words, ...] = ()
    width: int = WIDTH

    def strokes(self) -> dict[str, str]:
        """The lines by their pen, each pen's as one path, with those that hatch what is left or trimmed."""
        hatched = [box for box in self.boxes if box.kind in ("left", "keep", "trim")]
        lines = (*(line for box in hatched for line in hatching(box)), *self.lines)
        paths: dict[str, list[str]] = {}
        for line in lines:
            paths.setdefault(line.kind, []).append(f"M{line.x1} {line.y1}L{line.x2} {line.y2}")
        return {kind: "".join(path) for kind, path in paths.items()}

    def under(self) -> tuple[Box, ...]:
        """The boxes that lines are drawn over."""
        return tuple(box for box in self.boxes if box.kind not in OVER)

    def over(self) -> tuple[Box, ...]:
        """The boxes drawn over the lines: plates for words, and the outline."""
        return tuple(box for box in self.boxes if box.kind in OVER)


@dataclass
class Paper:
    """The paper while it is being drawn on."""

    boxes: list[Box] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)

    def drawing(self, height: int, title: str) -> CutDrawing:
        """What has been drawn."""
        return CutDrawing(height, title, tuple(self.boxes), tuple(self.lines), tuple(self.words))

    def dimension_across(self, x1: int, x2: int, y: int, text: str) -> None:
        """A dimension line with a tick at either end and, where it has room, its figure below."""
        self.lines += [
            Line(x1, y, x2, y, "dimension"),
            Line(x1, y - 35, x1, y + 35, "dimension"),
            Line(x2, y - 35, x2, y + 35, "dimension"),
        ]
        if text_width(text) <= x2 - x1:
            self.words.append(Words((x1 + x2) // 2, y + 125, text, "figure"))

    def dimension_up(self, y1: int, y2: int, x: int, text: str) -> None:
        """The same along an upright edge, its figure to the left, read from below."""
        self.lines += [
            Line(x, y1, x, y2, "dimension"),
            Line(x - 35, y1, x + 35, y1, "dimension"),
            Line(x - 35, y2, x + 35, y2, "dimension"),
        ]
        if text_width(text) <= y2 - y1:
            self.words.append(Words(x - 50, (y1 + y2) // 2, text, "figure", upright=True))


@dataclass(frozen=True)
class Scale:
    """Real size to paper: `longest_mm10` fills the paper from `left` to its right margin."""

    longest_mm10: int
    left: int = MARGIN

    def span(self, mm10: int) -> int:
        """How long on the paper."""
        return mm10 * (WIDTH - MARGIN - self.left) // max(1, self.longest_mm10)

    def at(self, mm10: int) -> int:
        """How far across the paper."""
        return self.left + self.span(mm10)


def text_width(text: str, letter: int = LETTER) -> int:
    """About how wide a word is drawn."""
    return len(text) * letter + letter // 2


def hatching(box: Box) -> list[Line]:
    """Lines at 45° across a box, cut off at its edges, in step with those of every other box."""
    lines = []
    first = -(-(box.x + box.y) // HATCH_STEP) * HATCH_STEP
    for total in range(first, box.x + box.width + box.y + box.height + 1, HATCH_STEP):
        left = max(box.x, total - box.y - box.height)
        right = min(box.x + box.width, total - box.y)
        if left < right:
            lines.append(Line(left, total - left, right, total - right, "hatch"))
    return lines
