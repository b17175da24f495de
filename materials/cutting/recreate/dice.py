"""Chance for the compiled code: each thread has its own, and starts it with a seed of its own."""

from __future__ import annotations

import numpy as np

from materials.cutting.recreate.compiled import compiled, woven_in


@woven_in
def chance() -> float:
    """A number from 0 up to 1."""
    return np.random.random()


@woven_in
def below(limit: int) -> int:
    """A whole number from 0 up to the limit, which it never is."""
    return int(np.random.random() * limit)


@compiled
def seed(value: int) -> None:
    """Start this thread's chance."""
    np.random.seed(value)
