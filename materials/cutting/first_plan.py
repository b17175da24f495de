"""A first plan, at once, and better ones by trying again with what went badly counted dearer."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from random import Random

from materials.cutting.blocks import Block, FilledBlank, Layout, counts_of, leaves
from materials.cutting.fill import Filler, Taste
from materials.cutting.search import never_stop
from materials.cutting.widened import Blank, Widened

STEADY_TASTES = (
    Taste(),
    Taste(size=0.5, snug=4.0),
    Taste(rips_first=True, snug=4.0),
    Taste(size=1.5, snug=1.0),
    Taste(size=0.3, snug=8.0),
)


SCARCE = 50.0


class SheetsRunOutError(Exception):
    """The sheets on hand were used up before all the pieces were placed."""

    def __init__(self, pieces: int) -> None:
        super().__init__(f"{pieces} pieces without a sheet")
        self.pieces = pieces


@dataclass(frozen=True)
class FillingRun:
    """One way of going through the sheets: what each shape is worth, what the filling prefers."""

    widened: Widened
    worth: list[float]
    taste: Taste
    rng: Random
    give_up: Callable[[], bool] = never_stop

    def layout(self) -> Layout:
        """Sheet after sheet, each time the one that takes its pieces' area for the least money.

        A sheet's pattern is repeated while there are pieces and sheets for it. Raises SheetsRunOutError.
        """
        filler = Filler(self.widened.shapes, self.worth, self.taste, self.rng)
        left = filler.left
        on_hand = [blank.quantity for blank in self.widened.blanks]
        layout: Layout = []
        while any(left):
            filled = self._cheapest_filling(filler, on_hand)
            if filled is None or self.give_up():
                raise SheetsRunOutError(sum(left))
            taken = counts_of(filled.block)
            times = min(on_hand[filled.blank], *(left[shape] // count for shape, count in taken.items()))
            layout.extend([filled] * times)
            on_hand[filled.blank] -= times
            for shape, count in taken.items():
                left[shape] -= count * times
            filler.forget_used_up()
        return layout

    def _cheapest_filling(self, filler: Filler, on_hand: list[int]) -> FilledBlank | None:
        best, best_rate = None, (0.0, 0.0)
        for index, blank in enumerate(self.widened.blanks):
            if not on_hand[index]:
                continue
            block = filler.fill(blank.width, blank.height)
            if block is None:
                continue
            for shape, count in counts_of(block).items():
                filler.left[shape] += count  # a trial: only the cheapest is taken
            rate = _rate(self.widened, blank, block)
            if best is None or rate < best_rate:
                best, best_rate = FilledBlank(index, block), rate
        return best


def _rate(widened: Widened, blank: Blank, block: Block) -> tuple[float, float]:
    """Money for the area used, then waste: the less the better."""
    used = sum(widened.shapes[leaf.shape].area for leaf in leaves(block))
    return blank.cost / used, blank.area / used


def steady_plans(widened: Widened) -> Iterator[Layout]:
    """A few layouts without chance in them, a cheap taste each; those that run out of sheets are left out."""
    rng = Random(0)
    level = level_worth(widened)
    for taste in STEADY_TASTES:
        try:
            yield FillingRun(widened, level, taste, rng).layout()
        except SheetsRunOutError:
            continue


def shaken_plans(
    widened: Widened, rng: Random, give_up: Callable[[], bool] = never_stop
) -> Iterator[Layout | None]:
    """Layouts for ever: each run counts dearer the pieces that lay on badly used sheets in the runs before.

    None stands for a run that ran out of sheets or was given up.
    """
    worth = level_worth(widened)
    while True:
        taste = Taste(
            size=rng.uniform(0.2, 1.5),
            snug=rng.uniform(0.5, 8.0),
            noise=rng.choice((0.0, 0.1, 0.3, 0.8)),
            flip=rng.choice((0.0, 0.1, 0.3)),
            rips_first=rng.random() < 0.15,
        )
        try:
            layout = FillingRun(widened, worth, taste, rng, give_up).layout()
        except SheetsRunOutError:
            yield None
            continue
        _learn(widened, layout, worth)
        yield layout
        if rng.random() < 0.02:
            worth = level_worth(widened)


def level_worth(widened: Widened) -> list[float]:
    """All shapes alike, save that those which go only into sheets that may run out come first."""
    plenty = [blank for blank in widened.blanks if blank.quantity >= widened.piece_count]
    return [1.0 if any(shape.goes_into(blank) for blank in plenty) else SCARCE for shape in widened.shapes]


def _learn(widened: Widened, layout: Layout, worth: list[float]) -> None:
    for filled in layout:
        counts = counts_of(filled.block)
        used = sum(widened.shapes[shape].area * count for shape, count in counts.items())
        dearness = (widened.blanks[filled.blank].area / used) ** 0.5
        for shape in counts:
            worth[shape] = 0.8 * worth[shape] + 0.2 * dearness * worth[shape]
    middle = sum(worth) / len(worth)
    worth[:] = [min(SCARCE, max(0.2, value / middle)) for value in worth]
