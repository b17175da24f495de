"""A floor under the cost of every plan: the linear program over all the ways of cutting a sheet.

Every plan is a choice of sheets, each cut some way. How often a way is taken may here be a fraction, and a
way may give more of a shape than is wanted; the least cost of that is a floor. Duals are rounded to whole
numbers and the pricing is exact, so the floor holds to the last digit.
"""

from __future__ import annotations

import highspy
import numpy as np

from materials.cutting.blocks import Layout, counts_of
from materials.cutting.panel_pricing import MOST_WORK, SheetPricer
from materials.cutting.quiet_solver import QuietSolver
from materials.cutting.widened import Widened

SCALE = 1 << 34
MOST_SHAPES = 400
NO_LIMIT = highspy.kHighsInf

Way = tuple[int, tuple[tuple[int, int], ...]]  # the blank, then shapes and how many of each


def sheet_floor_for(widened: Widened, layout: Layout) -> SheetFloor | None:
    """The linear program, begun from the sheets of a layout; None where it would take too long."""
    if len(widened.shapes) > MOST_SHAPES or not layout:
        return None
    pricer = SheetPricer(widened)
    return SheetFloor(widened, pricer, layout) if pricer.work <= MOST_WORK else None


class SheetFloor:
    """Raises a floor step by step, until the program is solved."""

    def __init__(self, widened: Widened, pricer: SheetPricer, layout: Layout) -> None:
        self.widened = widened
        self.pricer = pricer
        self.floor = 0
        self.solved = False
        self.money = max(1, *(blank.cost for blank in widened.blanks))
        self.limited = [n for n, blank in enumerate(widened.blanks) if blank.quantity < widened.piece_count]
        self.known: set[Way] = set()
        self.solver = QuietSolver()
        for shape in widened.shapes:
            self.solver.addRow(float(shape.quantity), NO_LIMIT, 0, [], [])
        for blank in self.limited:
            self.solver.addRow(-NO_LIMIT, float(widened.blanks[blank].quantity), 0, [], [])
        for filled in layout:
            self._add(filled.blank, counts_of(filled.block))

    def step(self) -> None:
        """One solution, one pricing, one more way for each blank."""
        self.solver.run()
        if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            self.solved = True
            return
        duals = self.solver.getSolution().row_dual
        shapes = len(self.widened.shapes)
        worth = [max(0, round(dual * SCALE)) for dual in duals[:shapes]]
        rents = {
            b: max(0, round(-dual * SCALE)) for b, dual in zip(self.limited, duals[shapes:], strict=True)
        }
        most = self.pricer.price(worth)
        self.floor = max(self.floor, self._floor(worth, most))
        new = 0
        for number, blank in enumerate(self.widened.blanks):
            if most[number] > self._cost(number) + rents.get(number, 0) + SCALE // 10**7:
                new += self._add(number, self.pricer.best_cutting(blank))
        self.solved = new == 0

    def _add(self, blank: int, counts: dict[int, int]) -> bool:
        """Bring in a way of cutting; was it new?"""
        way = (blank, tuple(sorted(counts.items())))
        if way in self.known:
            return False
        self.known.add(way)
        rows, amounts = list(counts), [float(count) for count in counts.values()]
        if blank in self.limited:
            rows.append(len(self.widened.shapes) + self.limited.index(blank))
            amounts.append(1.0)
        cost = self.widened.blanks[blank].cost / self.money
        self.solver.addCol(cost, 0.0, NO_LIMIT, len(rows), np.array(rows, dtype=np.int32), np.array(amounts))
        return True

    def _cost(self, blank: int) -> int:
        """A blank's cost in the worths' unit, rounded down."""
        return self.widened.blanks[blank].cost * SCALE // self.money

    def _floor(self, worth: list[int], most: list[int]) -> int:
        """The floor that these worths prove.

        Where a sheet could be worth more than it costs, all worths are scaled down if it never runs out;
        if it does, as many as there are pay the difference.
        """
        gain = sum(value * shape.quantity for value, shape in zip(worth, self.widened.shapes, strict=True))
        down, of = 1, 1
        for blank, value in enumerate(most):
            if blank not in self.limited and value * down > self._cost(blank) * of:
                down, of = self._cost(blank), value
        rent = sum(
            self.widened.blanks[blank].quantity * max(0, most[blank] * down - self._cost(blank) * of)
            for blank in self.limited
        )
        return -(-(gain * down - rent) * self.money // (of * SCALE))
