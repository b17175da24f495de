"""A searcher for large jobs: it works on a handful of sheets at a time, the badly used ones more often.

A round of ruin and recreate takes longer the more pieces there are, and gains as little. A cheaper layout of
some of the sheets, with the rest as they are, is a cheaper layout of all.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from random import Random

from materials.cutting.blocks import Block, FilledBlank, Layout, Leaf, counts_of
from materials.cutting.recreate.recreator import FIRST_CYCLE, Recreator
from materials.cutting.widened import Widened

FEWEST_PIECES, MOST_PIECES = 50, 250
WASTE_IN_SHEETS = (1.05, 2.0)  # of the chosen sheets together: to win a sheet, one must be there


class PartRecreator:
    """Like a Recreator, for a part of the layout after another."""

    def __init__(self, widened: Widened, costs: list[int], layout: Layout, number: int) -> None:
        self.widened = widened
        self.costs = costs
        self.layout = layout
        self.number = number
        self.rng = Random(number)
        self.areas = [shape.area for shape in widened.shapes]
        self.largest = max(blank.area for blank in widened.blanks)
        self.part: Recreator | None = None
        self.names: list[int] = []
        self.others: Layout = []

    def aim_below(self, layout: Layout) -> None:
        """Go on from this layout."""
        self.layout = layout
        self.part = None

    def step(self) -> Layout | None:
        """Search a little; the cheaper layout of the whole if one is found."""
        if self.part is None or self.part.rounds >= FIRST_CYCLE:
            self._choose_part()
        assert self.part is not None
        found = self.part.step()
        if found is None:
            return None
        return [*self.others, *(FilledBlank(f.blank, _renamed(f.block, self.names)) for f in found)]

    def _choose_part(self) -> None:
        chosen, self.others = self._choose_sheets()
        counts: Counter[int] = Counter()
        for filled in chosen:
            counts.update(counts_of(filled.block))
        self.names = sorted(counts)
        short = {shape: n for n, shape in enumerate(self.names)}
        used = Counter(filled.blank for filled in self.others)
        part = replace(
            self.widened,
            shapes=tuple(replace(self.widened.shapes[s], quantity=counts[s]) for s in self.names),
            blanks=tuple(
                replace(blank, quantity=min(blank.quantity - used[n], counts.total()))
                for n, blank in enumerate(self.widened.blanks)
            ),
            members=(),
        )
        layout = [FilledBlank(f.blank, _renamed(f.block, short)) for f in chosen]
        self.part = Recreator(part, self.costs, layout, self.rng.randrange(1 << 30))
        self.part.aim_below(layout)

    def _choose_sheets(self) -> tuple[Layout, Layout]:
        """Sheets that together waste enough to win one, and the others."""
        waste = [self._waste(filled) for filled in self.layout]
        keys = [self.rng.random() ** (self.largest / (1.0 + amount)) for amount in waste]
        order = sorted(range(len(self.layout)), key=keys.__getitem__, reverse=True)
        goal = self.rng.uniform(*WASTE_IN_SHEETS) * self.largest
        chosen, pieces, wasted = set[int](), 0, 0
        for index in order:
            if pieces >= MOST_PIECES or (wasted >= goal and pieces >= FEWEST_PIECES):
                break
            chosen.add(index)
            pieces += counts_of(self.layout[index].block).total()
            wasted += waste[index]
        inside = [filled for n, filled in enumerate(self.layout) if n in chosen]
        return inside, [filled for n, filled in enumerate(self.layout) if n not in chosen]

    def _waste(self, filled: FilledBlank) -> int:
        used = sum(self.areas[shape] * count for shape, count in counts_of(filled.block).items())
        return self.widened.blanks[filled.blank].area - used


def _renamed(block: Block, names: list[int] | dict[int, int]) -> Block:
    if isinstance(block, Leaf):
        return replace(block, shape=names[block.shape])
    return replace(block, children=tuple(_renamed(child, names) for child in block.children))
