"""One searcher: from a layout towards a cheaper one, in short steps that can be stopped between."""

from __future__ import annotations

import time
from random import Random

from materials.cutting.blocks import Layout
from materials.cutting.recreate.convert import layout_of, make_task, no_trees, trees_of, waiting_trees
from materials.cutting.recreate.dice import seed
from materials.cutting.recreate.kernel import improve
from materials.cutting.recreate.state import Trees, remove, settle
from materials.cutting.recreate.trees import BLANK, CLOSED, COST, ROOT
from materials.cutting.widened import Widened

HOT, COLD = 0.02, 0.0005
FIRST_CYCLE = 10_000  # rounds from hot to cold; each cycle without success is half as long again
LONGEST_CYCLE = 400_000
STEP_SECONDS = 0.03
MOST_SINGLES = 8


class Recreator:
    """Searches for a layout below the cost of the best; `costs` are what the blanks count."""

    def __init__(self, widened: Widened, costs: list[int], layout: Layout, number: int) -> None:
        self.widened = widened
        self.costs = costs
        self.rng = Random(number)
        area = sum(shape.area * shape.quantity for shape in widened.shapes)
        self.most = sum(cost * blank.quantity for cost, blank in zip(costs, widened.blanks, strict=True))
        rate = max(1, self.cost_of(layout) or self.most) / area
        self.task = make_task(widened, costs, rate)
        self.saved = no_trees(widened)
        self.trees: Trees = self.saved
        self.rounds_a_step = 50
        self.cycle, self.turn = FIRST_CYCLE, 0
        self.rounds = 0  # all since the start
        self.number = number
        self.seeded = False

    def cost_of(self, layout: Layout) -> int:
        """What the layout counts."""
        return sum(self.costs[filled.blank] for filled in layout)

    def aim_below(self, layout: Layout) -> None:
        """Start from this layout: what costs too much of it is taken apart. No layout: from nothing."""
        if layout:
            self.trees = trees_of(self.widened, self.task, layout)
            self._close_down_to(self.cost_of(layout) - 1)
        else:
            self.trees = waiting_trees(self.widened, self.task)
            self.task.budget[0] = self.most
        self.cycle, self.turn = FIRST_CYCLE, 0

    def step(self) -> Layout | None:
        """Search for about STEP_SECONDS; the cheaper layout if one is found."""
        if not self.seeded:
            seed(self.number)  # chance is each thread's own, so it starts where the work is done
            self.seeded = True
        started = time.perf_counter()
        hot, cold = self._heat(self.turn), self._heat(self.turn + self.rounds_a_step)
        done = improve(self.trees, self.saved, self.task, self.rounds_a_step, hot, cold, MOST_SINGLES)
        self._pace(time.perf_counter() - started)
        return layout_of(self.trees) if done else None

    def _heat(self, turn: int) -> float:
        return HOT * (COLD / HOT) ** min(1.0, turn / self.cycle)

    def _pace(self, seconds: float) -> None:
        self.turn += self.rounds_a_step
        self.rounds += self.rounds_a_step
        if self.turn >= self.cycle:
            self.cycle, self.turn = min(LONGEST_CYCLE, self.cycle * 3 // 2), 0
        faster = STEP_SECONDS / max(seconds, 1e-4)
        self.rounds_a_step = max(5, min(20_000, int(self.rounds_a_step * min(2.0, max(0.5, faster)))))

    def _close_down_to(self, budget: int) -> None:
        """Close sheets, as a rule those with most free, until the rest costs no more than the budget."""
        trees, task = self.trees, self.task
        task.budget[0] = budget
        while trees.registers[COST] > budget:
            sheets = [int(s) for s in (trees.sheets[:, BLANK] != CLOSED).nonzero()[0]]
            sheet = max(sheets, key=self._emptiness)
            remove(trees, task, trees.sheets[sheet, ROOT])
            settle(trees, task, sheet)

    def _emptiness(self, sheet: int) -> float:
        area = self.widened.blanks[int(self.trees.sheets[sheet, BLANK])].area
        return float(self.trees.worth[sheet]) / area**2 + 0.2 * self.rng.random()
