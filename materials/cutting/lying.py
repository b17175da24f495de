"""Which ways may a piece lie in a sheet?"""

from __future__ import annotations

from collections.abc import Iterator

from materials.cutting.blocks import Leaf
from materials.cutting.widened import Blank, Shape


def ways_to_lie(number: int, shape: Shape, blank: Blank) -> Iterator[Leaf]:
    """The piece straight, and turned where it may be; only as it goes into the sheet."""
    if shape.width <= blank.width and shape.height <= blank.height:
        yield Leaf(number, False, shape.width, shape.height)
    if shape.may_turn and shape.height <= blank.width and shape.width <= blank.height:
        yield Leaf(number, True, shape.height, shape.width)
