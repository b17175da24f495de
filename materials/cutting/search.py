"""How long may a search for a better plan go on, and who is told when one is found?"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Generic, TypeVar

PlanT = TypeVar("PlanT")


def never_stop() -> bool:
    """The answer of a caller who lets the search use all its time."""
    return False


@dataclass(frozen=True)
class Search(Generic[PlanT]):
    """What a caller grants a search: seconds of wall clock, a way to stop it, a way to hear of progress.

    `on_better` is called with every plan that is better than the last one told of; the first call comes
    as soon as there is any valid plan. `should_stop` is asked often (at least every 0.1 s) and must be cheap.
    """

    seconds: float = 10.0
    should_stop: Callable[[], bool] = never_stop
    on_better: Callable[[PlanT], None] = field(default=lambda plan: None)
    started: float = field(default_factory=time.monotonic)

    def seconds_left(self) -> float:
        """Wall clock seconds until the search must give its answer; never below zero."""
        return max(0.0, self.seconds - (time.monotonic() - self.started))

    def is_over(self) -> bool:
        """True once the time is used up or the caller wants what there is."""
        return self.seconds_left() <= 0.0 or self.should_stop()
