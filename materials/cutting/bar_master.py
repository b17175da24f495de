"""The linear program over patterns, and the loop that brings in the patterns it lacks.

Every plan is a choice of patterns; how often each is cut may here be a fraction. The least cost of that is
a floor under every plan, and the patterns it leans on are the ones good plans are made of.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

import highspy
import numpy as np
from numpy.typing import NDArray

from .bar_pricing import Pattern, Pricer
from .cut_model import CutModel, Filling
from .quiet_solver import QuietSolver

NEW_PATTERNS = 60
SECONDS_A_RUN = 0.5  # so that a wish to stop is heard
NO_GAIN = 4_000_000  # a gain of one part in so many is taken for rounding
NO_LIMIT = highspy.kHighsInf


@dataclass(frozen=True)
class Relaxed:
    """What the linear program came to: its cost, how often each pattern is cut, and a floor that is safe.

    No plan costs less than `floor`, which is exact.
    """

    cost: float
    amounts: NDArray[np.float64]
    duals: Sequence[float]
    floor: Fraction


class Master:
    """Patterns known so far and the linear program over them."""

    def __init__(self, model: CutModel) -> None:
        self.model = model
        self.pricer = Pricer(model)
        self.money = max(1, *(model.charges[s] for s in model.stock_order))
        self.patterns: list[Pattern] = []
        self.known: set[Pattern] = set()
        self.limited = [s for s in model.stock_order if model.limits[s] is not None]
        self.demand = list(model.demand)
        self.limits_of_stock = [model.limits[s] or 0 for s in self.limited]
        self.limits = list(self.limits_of_stock)
        self.counts = np.zeros((len(model.lengths) + len(self.limited), 256), dtype=np.int32)
        self.solver = _new_solver()
        for count in model.demand:
            self.solver.addRow(float(count), NO_LIMIT, 0, [], [])
        for stock in self.limited:
            self.solver.addRow(-NO_LIMIT, float(model.limits[stock] or 0), 0, [], [])
        self.add(_single_pieces(model))

    def add(self, patterns: Iterable[Pattern]) -> int:
        """Bring in patterns; how many of them were new."""
        new = 0
        for pattern in patterns:
            if pattern not in self.known:
                self._add(pattern)
                new += 1
        return new

    def _add(self, pattern: Pattern) -> None:
        self.known.add(pattern)
        self.patterns.append(pattern)
        rows, counts = [i for i, _ in pattern.counts], [float(count) for _, count in pattern.counts]
        if pattern.stock in self.limited:
            rows.append(len(self.model.lengths) + self.limited.index(pattern.stock))
            counts.append(1.0)
        column = len(self.patterns) - 1
        if column >= self.counts.shape[1]:
            self.counts = np.hstack([self.counts, np.zeros_like(self.counts)])
        self.counts[rows, column] = counts
        cost = self.model.charges[pattern.stock] / self.money
        self.solver.addCol(cost, 0.0, NO_LIMIT, len(rows), np.array(rows, dtype=np.int32), np.array(counts))

    def ask_for(self, demand: Sequence[int], limits: Sequence[int]) -> None:
        """Set what is still to be cut and of what; patterns that cut too much of anything are barred."""
        self.demand, self.limits = list(demand), list(limits)
        rows, columns = len(demand), len(self.patterns)
        have = np.array([*demand, *limits], dtype=np.int32)
        low = np.array([*map(float, demand), *(-NO_LIMIT for _ in limits)])
        high = np.array([*(NO_LIMIT for _ in range(rows)), *map(float, limits)])
        index = np.arange(len(have), dtype=np.int32)
        self.solver.changeRowsBounds(len(have), index, low, high)
        fits = np.all(self.counts[:, :columns] <= have[:, None], axis=0)
        upper = np.where(fits, NO_LIMIT, 0.0)
        self.solver.changeColsBounds(columns, np.arange(columns, dtype=np.int32), np.zeros(columns), upper)

    def relax(self, is_over: Callable[[], bool], enough: float | None = None) -> Relaxed | None:
        """Solve, price, bring in patterns, until none is lacking or the time is over; None if it is already.

        With `enough`, stop as soon as the floor shows that the cost will stay above it. What an early end
        leaves is sound all the same: amounts that cut everything, and a floor, if not the highest.
        """
        floor, relaxed = 0, None
        while not is_over():
            self.solver.setOptionValue("time_limit", self.solver.getRunTime() + SECONDS_A_RUN)
            self.solver.run()
            status = self.solver.getModelStatus()
            if status == highspy.HighsModelStatus.kTimeLimit:
                continue  # the next run goes on from there, if there is time for one
            if status != highspy.HighsModelStatus.kOptimal:
                break
            solution, cost = self.solver.getSolution(), self.solver.getObjectiveValue()
            new, safe = self._bring_in(solution.row_dual)
            floor = max(floor, safe)
            exact_floor = Fraction(floor * self.money, self.pricer.unit)
            relaxed = Relaxed(cost, np.array(solution.col_value), solution.row_dual, exact_floor)
            if not new or (enough is not None and floor > enough * self.pricer.unit):
                break
        return relaxed

    def _bring_in(self, duals: Sequence[float]) -> tuple[int, int]:
        """Price with these duals: how many patterns were new, and a floor under the cost of every plan.

        Rounded duals are made feasible by what pricing finds: where the best bar of a stock is worth more
        than it costs, a limited stock pays the difference for each piece there is, the others scale all down.
        """
        lengths, unit = len(self.model.lengths), self.pricer.unit
        values = self.values_at(duals)
        rents = {
            s: max(0, round(-dual * unit)) for s, dual in zip(self.limited, duals[lengths:], strict=True)
        }
        costs = [charge * unit // self.money for charge in self.model.charges]
        over = [cost + rents.get(s, 0) + unit // NO_GAIN for s, cost in enumerate(costs)]
        priced = self.pricer.price(values, self.demand, over, NEW_PATTERNS)
        return self.add(priced.patterns), self._floor(values, costs, priced.most)

    def values_at(self, duals: Sequence[float]) -> list[int]:
        """Prices on the lengths in whole numbers; no piece is worth more than a bar of its own."""
        unit = self.pricer.unit
        return [min(unit, max(0, round(dual * unit))) for dual in duals[: len(self.model.lengths)]]

    def _floor(self, values: list[int], costs: list[int], most: dict[int, int]) -> int:
        gain = sum(value * count for value, count in zip(values, self.demand, strict=True))
        down_n, down_d = 1, 1
        for s, worth in most.items():
            if s not in self.limited and worth * down_n > costs[s] * down_d:
                down_n, down_d = costs[s], worth
        rent = sum(
            limit * max(0, most[s] * down_n - costs[s] * down_d)
            for s, limit in zip(self.limited, self.limits, strict=True)
        )
        return (gain * down_n - rent) // down_d


def _new_solver() -> QuietSolver:
    solver = QuietSolver()
    solver.setOptionValue("presolve", "off")
    solver.setOptionValue("solver", "simplex")
    solver.setOptionValue("simplex_strategy", 4)
    return solver


def _single_pieces(model: CutModel) -> list[Pattern]:
    """One piece of each length from a stock without limit, so that no remainder is out of reach."""
    singles = []
    for i, length in enumerate(model.lengths):
        endless = [s for s in model.stock_order if model.limits[s] is None and model.rooms[s] >= length]
        singles.append(Pattern(min(endless, key=lambda s: model.charges[s]), ((i, 1),)))
    return singles


def patterns_of(fillings: Iterable[Filling]) -> list[Pattern]:
    """The patterns of a plan."""
    patterns = []
    for filling in fillings:
        counts = {i: filling.lengths.count(i) for i in sorted(set(filling.lengths))}
        patterns.append(Pattern(filling.stock, tuple(counts.items())))
    return patterns


def fillings_of(chosen: Mapping[Pattern, int]) -> list[Filling]:
    """The bars of these patterns, each cut so many times."""
    return [
        Filling(pattern.stock, tuple(i for i, count in pattern.counts for _ in range(count)), times)
        for pattern, times in chosen.items()
    ]
