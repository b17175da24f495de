"""The best plan so far for one model, and what has been shown about the cost of any plan."""

from __future__ import annotations

from collections.abc import Callable

from .bar_bounds import length_bound
from .cut_model import CutModel, Filling


class Attempt:
    """Takes offers of plans and floors, keeps the best of each, and tells of better plans."""

    def __init__(
        self,
        model: CutModel,
        is_over: Callable[[], bool],
        seconds_left: Callable[[], float] = lambda: 0.0,
        tell: Callable[[Attempt], None] | None = None,
    ) -> None:
        self.model = model
        self.is_over = is_over
        self.seconds_left = seconds_left
        self.tell = tell
        self.bound = length_bound(model)
        self.offers: list[list[Filling]] = []
        self.best: list[Filling] = []
        self.cost = 0
        self.bar_count = 0
        self.how = ""

    def is_proven(self) -> bool:
        """True once nothing cheaper can exist."""
        return bool(self.best) and self.cost <= self.bound

    def is_best(self) -> bool:
        """True once neither the cost nor the number of bars can be less."""
        return self.is_proven() and (self.model.counts_bars_only or self.bar_count == 1)

    def raise_bound(self, bound: int) -> None:
        """No plan costs less than this, as has been shown."""
        self.bound = max(self.bound, bound)

    def rearrange(self, fillings: list[Filling]) -> None:
        """Keep the same bars cut another way, and tell of it if it is another way."""
        if fillings is not self.best:
            self.best = fillings
            if self.tell:
                self.tell(self)

    def offer(self, fillings: list[Filling], how: str) -> None:
        """Keep these fillings if they are better than what there is, and tell of them."""
        self.offers.append(fillings)
        cost, bar_count = self.model.cost_of(fillings), sum(f.repeat for f in fillings)
        if not self.best or (cost, bar_count) < (self.cost, self.bar_count):
            self.best, self.cost, self.bar_count, self.how = fillings, cost, bar_count, how
            if self.tell:
                self.tell(self)
