"""Is there a plan with so many bars, yes or no?

With prices on the lengths no bar is worth more than the best one. If all parts together are worth nearly
what so many best bars are, then each bar of such a plan is nearly a best one, and those are few: they are
listed, and an integer program finds a plan among them or shows that there is none.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import highspy
import numpy as np

from .bar_pricing import Pattern
from .cut_model import CutModel
from .quiet_solver import QuietSolver

MOST_CELLS = 4_000_000
MOST_STEPS = 300_000
MOST_PATTERNS = 8_000


def patterns_of_a_plan(model: CutModel, values: Sequence[int], bars: int) -> list[Pattern] | None:
    """Every pattern that a plan of so many bars of the one stock can have in it; None if they are too many.

    A plan wastes no more than so many rooms less all lengths, so no bar wastes more than that. And if no bar
    is worth more than `most`, each is worth at least all parts less `most` for each of the other bars.
    """
    stock = model.stock_order[0]
    room = model.rooms[stock]
    if (len(model.lengths) + 1) * (room + 1) > MOST_CELLS:
        return None
    tables = _most_of_the_rest(model, values, room)
    all_worth = sum(value * n for value, n in zip(values, model.demand, strict=True))
    least = all_worth - (bars - 1) * tables[0][room]
    waste = bars * room - sum(size * n for size, n in zip(model.lengths, model.demand, strict=True))
    return _listed(model, values, tables, least, waste)


def _most_of_the_rest(model: CutModel, values: Sequence[int], room: int) -> list[memoryview]:
    """For each length and each room, the most that it and the shorter ones are worth in that room."""
    table = np.zeros((len(model.lengths) + 1, room + 1), dtype=np.int64)
    for i in reversed(range(len(model.lengths))):
        size = model.lengths[i]
        table[i] = table[i + 1]
        for count in range(1, min(model.demand[i], room // size) + 1):
            with_it = table[i + 1, : room + 1 - count * size] + count * values[i]
            np.maximum(table[i, count * size :], with_it, out=table[i, count * size :])
    return [row.data for row in table]


def _listed(
    model: CutModel, values: Sequence[int], tables: list[memoryview], least: int, waste: int
) -> list[Pattern] | None:
    """The patterns worth at least `least` that leave at most `waste`."""
    stock = model.stock_order[0]
    shortest, kinds = model.lengths[-1], len(model.lengths)
    patterns: list[Pattern] = []
    open_ends: list[tuple[int, int, int, tuple[tuple[int, int], ...]]] = [(0, model.rooms[stock], least, ())]
    for _ in range(MOST_STEPS):
        if not open_ends:
            return patterns
        i, room, lacking, counts = open_ends.pop()
        if i == kinds or room < shortest:
            if room <= waste and counts:
                patterns.append(Pattern(stock, counts))
            continue
        if len(patterns) > MOST_PATTERNS:
            return None
        size, value, later = model.lengths[i], values[i], tables[i + 1]
        for count in range(min(model.demand[i], room // size) + 1):
            left = room - count * size
            if later[left] >= lacking - count * value:
                taken = (*counts, (i, count)) if count else counts
                open_ends.append((i + 1, left, lacking - count * value, taken))
    return None


def choose(
    model: CutModel, patterns: Sequence[Pattern], bars: int, is_over: Callable[[], bool]
) -> dict[Pattern, int] | None:
    """So many bars of these patterns that cut each piece once; None if there is no such choice.

    An empty choice decides nothing: the time ran out first.
    """
    if not patterns:
        return None
    solver = QuietSolver()
    solver.cbMipInterrupt += lambda event: event.interrupt(is_over())
    for count in (*model.demand, bars):
        solver.addRow(float(count), float(count), 0, [], [])
    for pattern in patterns:
        rows = [*(i for i, _ in pattern.counts), len(model.demand)]
        counts = [*(count for _, count in pattern.counts), 1]
        solver.addCol(
            0.0,
            0.0,
            float(bars),
            len(rows),
            np.array(rows, dtype=np.int32),
            np.array(counts, dtype=np.float64),
        )
    columns = np.arange(len(patterns), dtype=np.int32)
    kinds = np.full(len(patterns), highspy.HighsVarType.kInteger, dtype=np.uint8)
    solver.changeColsIntegrality(len(patterns), columns, kinds)
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return None
    if status != highspy.HighsModelStatus.kOptimal:
        return {}
    amounts = solver.getSolution().col_value
    chosen = {pattern: round(n) for pattern, n in zip(patterns, amounts, strict=True) if round(n)}
    return chosen if _cut_by(chosen, len(model.demand)) == list(model.demand) else {}


def _cut_by(chosen: dict[Pattern, int], kinds: int) -> list[int]:
    """Pieces of each length that a choice cuts: a solver works with fractions, so its answer is counted."""
    cut = [0] * kinds
    for pattern, times in chosen.items():
        for i, count in pattern.counts:
            cut[i] += count * times
    return cut
