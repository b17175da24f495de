"""Which problems are small enough for the search over patterns?"""

from __future__ import annotations

from .cut_model import CutModel

MOST_LENGTHS = 2000
MOST_CELLS = 200_000_000


def is_within_reach(model: CutModel) -> bool:
    """Whether its tables fit in memory (a byte for each cell, and as much again for the linear program)."""
    room = model.largest_room
    rows = sum(
        len(batches(min(n, room // size))) for size, n in zip(model.lengths, model.demand, strict=True)
    )
    return len(model.lengths) <= MOST_LENGTHS and rows * room <= MOST_CELLS


def batches(count: int) -> list[int]:
    """Sizes whose sums make every number up to the count and none above it.

    >>> batches(6)
    [1, 2, 3]
    """
    sizes, batch = [], 1
    while count > 0:
        sizes.append(min(batch, count))
        count -= sizes[-1]
        batch *= 2
    return sizes
