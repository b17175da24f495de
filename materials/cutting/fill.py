"""Fill one rectangle with pieces, greedily: which piece next, and which way to cut it off."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from materials.cutting.blocks import ACROSS, UPWARD, Block, Leaf, stack
from materials.cutting.widened import Shape

LOOK_AT_MOST = 150  # pieces compared for one gap, so that 10,000 different ones stay quick


@dataclass(frozen=True)
class Taste:
    """What one run of the filling prefers. Area counts to the power `size`, snugness to the power `snug`;
    `noise` shakes the choice of piece, `flip` is how often the less likely cut is made first."""

    size: float = 1.0
    snug: float = 2.0
    noise: float = 0.0
    flip: float = 0.0
    rips_first: bool = False


class Filler:
    """Fills rectangles from a supply of shapes that it uses up. Shapes come by falling area."""

    def __init__(self, shapes: Sequence[Shape], worth: Sequence[float], taste: Taste, rng: Random) -> None:
        self.left = [shape.quantity for shape in shapes]
        self.taste = taste
        self.rng = rng
        self._falling = [-shape.area for shape in shapes]
        self._shapes = [(s.width, s.height, s.may_turn) for s in shapes]
        self._worth = [worth[i] * float(s.area) ** taste.size for i, s in enumerate(shapes)]
        self._live = list(range(len(shapes)))
        self._look_at_most = LOOK_AT_MOST if len(shapes) < 1000 else LOOK_AT_MOST // 5

    def forget_used_up(self) -> None:
        """Stop looking at shapes of which none is left. Not while a filling may yet be taken back."""
        self._live = [i for i in self._live if self.left[i]]

    def fill(self, width: int, height: int) -> Block | None:
        """The pieces put into the rectangle, or None if none goes in."""
        peeled: list[tuple[int, Block]] = []
        while True:
            choice = self._choose(width, height)
            if choice is None:
                break
            _, _, w, h = choice
            if self._cut_across_first(width, height, w, h):
                run = self._run(choice, UPWARD, height // h)
                peeled.append((ACROSS, self._beside(run, UPWARD, w, height - run.height)))
                width -= w
            else:
                run = self._run(choice, ACROSS, width // w)
                peeled.append((UPWARD, self._beside(run, ACROSS, width - run.width, h)))
                height -= h
        return _nest(peeled)

    def _beside(self, run: Block, axis: int, width: int, height: int) -> Block:
        """The run and what goes into the rest of its strip."""
        rest = self.fill(width, height) if width > 0 and height > 0 else None
        return run if rest is None else stack(axis, [run, rest])

    def _run(self, choice: tuple[int, bool, int, int], axis: int, room: int) -> Block:
        """As many of the shape as the strip holds."""
        shape, turned, w, h = choice
        count = min(room, self.left[shape])
        self.left[shape] -= count
        return stack(axis, [Leaf(shape, turned, w, h)] * count)

    def _choose(self, width: int, height: int) -> tuple[int, bool, int, int] | None:
        best, best_score = None, 0.0
        looked = 0
        left, shapes, snug, noise = self.left, self._shapes, self.taste.snug, self.taste.noise
        for place in range(self._first_that_may_fit(width * height), len(self._live)):
            i = self._live[place]
            if not left[i]:
                continue
            w, h, may_turn = shapes[i]
            score, turned = 0.0, False
            if w <= width and h <= height:
                score = max(w / width, h / height) ** snug
            if may_turn and h <= width and w <= height:
                other = max(h / width, w / height) ** snug
                if other > score:
                    score, turned = other, True
            if score:
                score *= self._worth[i]
                if noise:
                    score *= 1.0 + noise * self.rng.random()
                looked += 1
                if score > best_score:
                    best_score = score
                    best = (i, True, h, w) if turned else (i, False, w, h)
                if looked >= self._look_at_most:
                    break
        return best

    def _first_that_may_fit(self, area: int) -> int:
        return bisect_left(self._live, -area, key=self._falling.__getitem__)

    def _cut_across_first(self, width: int, height: int, w: int, h: int) -> bool:
        """Leave the larger rectangle whole, unless taste says otherwise."""
        if width == w or height == h:
            return height == h
        if self.taste.rips_first:
            return False
        across = (width - w) * height > width * (height - h)
        return across != (self.taste.flip > 0 and self.rng.random() < self.taste.flip)


def _nest(peeled: list[tuple[int, Block]]) -> Block | None:
    """The strips peeled off one after another, the first outermost."""
    block: Block | None = None
    for axis, strip in reversed(peeled):
        block = strip if block is None else stack(axis, [strip, block])
    return block
