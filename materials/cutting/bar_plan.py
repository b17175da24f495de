"""Which bar is cut into which parts, in what order, and what that costs and leaves."""

from __future__ import annotations

from dataclasses import dataclass

from .bar_problem import BarProblem


@dataclass(frozen=True)
class CutBar:
    """A bar and its parts in the order they are cut; `repeat` bars are cut alike.

    `stock` and `parts` are indices into the problem's stock and parts.
    """

    stock: int
    parts: tuple[int, ...]
    repeat: int = 1


@dataclass(frozen=True)
class Leftover:
    """What one bar leaves beyond its last cut; `kept` where it is long enough to go back on the rack."""

    bar: int
    length_mm10: int
    kept: bool
    repeat: int = 1


@dataclass(frozen=True)
class BarPlan:
    """A cutting plan and how good it is known to be.

    `cost` is what counts: prices plus the keep-values of offcuts used up. No plan can cost less than
    `bound`; `proven` says that none does. `how` names the way the plan was found.
    """

    problem: BarProblem
    bars: tuple[CutBar, ...]
    bound: int = 0
    seconds: float = 0.0
    how: str = ""

    @property
    def cost(self) -> int:
        """Prices of the bars taken plus the keep-values of offcuts among them."""
        return sum(self.problem.stock[bar.stock].charge * bar.repeat for bar in self.bars)

    @property
    def to_pay(self) -> int:
        """The prices alone: what the supplier asks for."""
        return sum(self.problem.stock[bar.stock].cost * bar.repeat for bar in self.bars)

    @property
    def proven(self) -> bool:
        """True where the bound meets the plan, so that no plan costs less."""
        return self.cost <= self.bound

    @property
    def bar_count(self) -> int:
        """Bars taken, repeats counted."""
        return sum(bar.repeat for bar in self.bars)

    @property
    def used_mm10(self) -> int:
        """Length of the parts."""
        return sum(
            self.problem.parts[part].length_mm10 * bar.repeat for bar in self.bars for part in bar.parts
        )

    @property
    def taken_mm10(self) -> int:
        """Length of the bars."""
        return sum(self.problem.stock[bar.stock].length_mm10 * bar.repeat for bar in self.bars)

    @property
    def yield_permille(self) -> int:
        """Parts in thousandths of the length taken, rounded down; 1000 for a plan of nothing."""
        return 1000 * self.used_mm10 // self.taken_mm10 if self.taken_mm10 else 1000

    @property
    def cuts(self) -> int:
        """Cuts of the saw over all bars."""
        return sum(cuts_of(self.problem, bar) * bar.repeat for bar in self.bars)

    @property
    def longest_leftover_mm10(self) -> int:
        """The longest single piece that is left, 0 if nothing is."""
        return max((left.length_mm10 for left in self.leftovers()), default=0)

    def leftovers(self) -> tuple[Leftover, ...]:
        """What each bar leaves, in the order of the bars."""
        lengths = (leftover_mm10(self.problem, bar) for bar in self.bars)
        least = max(1, self.problem.least_offcut_mm10)
        return tuple(
            Leftover(bar=index, length_mm10=length, kept=length >= least, repeat=self.bars[index].repeat)
            for index, length in enumerate(lengths)
            if length
        )

    def rank(self) -> tuple[int, int, int]:
        """Less is better: the cost, then the number of bars, then the longest leftover (longer is better)."""
        return (self.cost, self.bar_count, -self.longest_leftover_mm10)


def rest_mm10(problem: BarProblem, bar: CutBar) -> int:
    """What stands beyond the last part before it is cut free: n parts have taken n - 1 kerfs.

    Below nothing, the bar is too short for its parts.
    """
    parts = sum(problem.parts[part].length_mm10 for part in bar.parts)
    between = problem.kerf_mm10 * (len(bar.parts) - 1)
    return problem.usable_mm10(problem.stock[bar.stock]) - parts - between


def leftover_mm10(problem: BarProblem, bar: CutBar) -> int:
    """What is left once the last part is cut free; nothing where that cut runs off the end."""
    return max(0, rest_mm10(problem, bar) - problem.kerf_mm10)


def cuts_of(problem: BarProblem, bar: CutBar) -> int:
    """Cuts for one bar: one frees each part, save the last where it ends flush with an untrimmed end."""
    trimmed = problem.trim_of(problem.stock[bar.stock]) > 0
    flush = rest_mm10(problem, bar) == 0 and not trimmed
    return len(bar.parts) - (1 if flush else 0) + (1 if trimmed else 0)
