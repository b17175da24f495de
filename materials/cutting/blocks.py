"""A layout as blocks stacked in blocks: what every search for a plan of sheets builds and takes apart.

Sizes are widened ones (see widened.py) and tight: a stack is as long as its children together and as high as
the highest of them. The slack of the sheet around the outermost block is not part of it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

ACROSS = 0  # children side by side, along the width
UPWARD = 1  # children one above another


@dataclass(frozen=True, slots=True)
class Leaf:
    """One piece of a shape."""

    shape: int
    turned: bool
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Stack:
    """Blocks in a row, along one axis. No child is a stack along the same axis."""

    axis: int
    children: tuple[Block, ...]
    width: int
    height: int


Block = Leaf | Stack


@dataclass(frozen=True, slots=True)
class FilledBlank:
    """One sheet of a layout."""

    blank: int
    block: Block


Layout = list[FilledBlank]


def stack(axis: int, blocks: list[Block]) -> Block:
    """The blocks in a row along the axis, flattened."""
    children: list[Block] = []
    for block in blocks:
        if isinstance(block, Stack) and block.axis == axis:
            children.extend(block.children)
        else:
            children.append(block)
    if len(children) == 1:
        return children[0]
    widths, heights = [c.width for c in children], [c.height for c in children]
    if axis == ACROSS:
        return Stack(axis, tuple(children), sum(widths), max(heights))
    return Stack(axis, tuple(children), max(widths), sum(heights))


def leaves(block: Block) -> Iterator[Leaf]:
    """The pieces of a block."""
    todo = [block]
    while todo:
        node = todo.pop()
        if isinstance(node, Leaf):
            yield node
        else:
            todo.extend(reversed(node.children))


def counts_of(block: Block) -> Counter[int]:
    """How many pieces of each shape a block holds."""
    return Counter(leaf.shape for leaf in leaves(block))
