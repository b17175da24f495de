"""Which bars to take, apart from how to cut them: the cheapest set of stock that could hold all parts.

For any prices put on the lengths, a set of bars must hold at least what all parts are worth, and a bar holds
at most what the best pattern of its stock is worth. The cheapest set that passes all such tests is a floor
under every plan. A set that passes is tried on the linear program over patterns: if that cannot cut all
parts from it, its prices are a new test that the set fails.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import highspy
import numpy as np

from .bar_dive import dives
from .bar_master import Master
from .cut_model import CutModel, Filling
from .quiet_solver import QuietSolver

PRICE_STEPS = 20_000
SHORT = 1e-6


@dataclass(frozen=True)
class Test:
    """What one bar of each stock is worth at most, and what all parts are worth together."""

    most: tuple[int, ...]
    least: int


class StockSets:
    """Sets of stock from cheap to dear, with the tests and refusals gathered so far."""

    def __init__(self, root: Master, duals: Sequence[float], most_cost: int) -> None:
        self.root = root
        self.model = root.model
        self.stocks = self.model.stock_order
        self.most_of = [self._most_of(s, most_cost) for s in self.stocks]
        self.tests = [self._test_from(duals), self._test_by_length()]
        self.refused: list[tuple[int, ...]] = []

    @cached_property
    def packing(self) -> Master:
        """The linear program that asks how much is lacking, begun with all patterns known by then."""
        master = Master(self._packing_model())
        master.add(self.root.patterns)
        return master

    def _most_of(self, stock: int, most_cost: int) -> int:
        """The most bars of a stock that can be of use under this cost."""
        limit, charge = self.model.limits[stock], self.model.charges[stock]
        most = sum(self.model.demand) if limit is None else limit
        return min(most, most_cost // charge) if charge else most

    def _packing_model(self) -> CutModel:
        """All stock free but limited, and beside it a stock that costs 1: nothing is lacking at cost 0."""
        model = self.model
        limits = [0] * len(model.rooms)
        for stock, most in zip(self.stocks, self.most_of, strict=True):
            limits[stock] = max(1, most)
        return CutModel(
            lengths=model.lengths,
            demand=model.demand,
            rooms=(*model.rooms, model.largest_room),
            charges=(*(0 for _ in model.rooms), 1),
            limits=(*limits, None),
        )

    def cost_of(self, counts: tuple[int, ...]) -> int:
        """What the bars of a set count together."""
        return sum(self.model.charges[s] * n for s, n in zip(self.stocks, counts, strict=True))

    def next_set(
        self, weights: Sequence[int], most_cost: int, most_bars: int | None = None
    ) -> tuple[int, ...] | None:
        """The lightest set within a cost that passes every test and is not refused; None if there is none."""
        solver = QuietSolver()
        solver.setOptionValue("mip_rel_gap", 0.0)
        solver.setOptionValue("mip_abs_gap", 0.5)
        for stock, most in zip(self.stocks, self.most_of, strict=True):
            solver.addVar(0.0, float(most))
            solver.changeColCost(solver.getNumCol() - 1, float(weights[stock]))
        columns = np.arange(len(self.stocks), dtype=np.int32)
        for test in self.tests:
            _row(solver, float(test.least), highspy.kHighsInf, columns, test.most)
        _row(
            solver,
            -highspy.kHighsInf,
            float(most_cost),
            columns,
            [self.model.charges[s] for s in self.stocks],
        )
        if most_bars is not None:
            _row(solver, -highspy.kHighsInf, float(most_bars), columns, [1] * len(columns))
        for refused in self.refused:
            self._refuse(solver, columns, refused)
        kinds = np.full(solver.getNumCol(), highspy.HighsVarType.kInteger, dtype=np.uint8)
        solver.changeColsIntegrality(len(kinds), np.arange(len(kinds), dtype=np.int32), kinds)
        solver.run()
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        return tuple(round(x) for x in solver.getSolution().col_value[: len(self.stocks)])

    def _refuse(self, solver: QuietSolver, columns: np.ndarray, refused: tuple[int, ...]) -> None:
        """Another set, which is not part of this one either, takes more of some stock."""
        more = []
        for column, (count, most) in enumerate(zip(refused, self.most_of, strict=True)):
            if count < most:
                solver.addVar(0.0, 1.0)
                more.append(solver.getNumCol() - 1)
                _row(solver, 0.0, highspy.kHighsInf, [column, more[-1]], [1, -(count + 1)])
        _row(solver, 1.0, highspy.kHighsInf, more, [1] * len(more))

    def is_too_small(self, counts: tuple[int, ...], is_over: Callable[[], bool]) -> bool | None:
        """Whether the linear program cannot cut all parts from this set; then a new test says why."""
        self.packing.ask_for(self.model.demand, self._limits(counts))
        relaxed = self.packing.relax(is_over)
        if relaxed is None:
            return None
        if relaxed.cost <= SHORT:
            return False
        test = self._test_from(relaxed.duals)
        self.tests.append(test)
        return sum(n * most for n, most in zip(counts, test.most, strict=True)) < test.least

    def _limits(self, counts: tuple[int, ...]) -> list[int]:
        """The counts in the order in which the master keeps its limited stock."""
        by_stock = dict(zip(self.stocks, counts, strict=True))
        return [by_stock[s] for s in self.packing.limited]

    def _test_from(self, duals: Sequence[float]) -> Test:
        """Prices in whole steps; what bars are worth at them is then exact."""
        prices = [max(0.0, dual) for dual in duals[: len(self.model.lengths)]]
        step = max(prices) / PRICE_STEPS or 1.0
        values = [int(price / step) for price in prices]
        return self._test(values)

    def _test_by_length(self) -> Test:
        """Lengths for prices: a bar is worth the most of its room that pieces can fill."""
        return self._test(self.model.lengths)

    def _test(self, values: Sequence[int]) -> Test:
        no_patterns = [2**31] * len(self.model.rooms)
        most = self.root.pricer.price(values, self.model.demand, no_patterns, 0).most
        least = sum(value * count for value, count in zip(values, self.model.demand, strict=True))
        return Test(tuple(most[s] for s in self.stocks), least)

    def cut(
        self, counts: tuple[int, ...], is_over: Callable[[], bool], seed: int, most_dives: int
    ) -> list[Filling] | None:
        """A plan from the bars of this set alone, if so many dives find one."""
        plans = dives(
            self.packing,
            target=lambda: 0,
            is_over=is_over,
            seed=seed,
            limits=self._limits(counts),
            most_dives=most_dives,
        )
        return next(plans, None)


def _row(
    solver: QuietSolver, low: float, high: float, columns: Sequence[int] | np.ndarray, values: Sequence[int]
) -> None:
    solver.addRow(
        low, high, len(values), np.array(columns, dtype=np.int32), np.array(values, dtype=np.float64)
    )
