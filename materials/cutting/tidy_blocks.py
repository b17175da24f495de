"""The same pieces in the same room with fewer turns at the saw: grids cut the way all around them is cut."""

from __future__ import annotations

from materials.cutting.blocks import ACROSS, UPWARD, Block, Leaf, Stack, stack


def tidy(block: Block) -> Block:
    """The block with every grid laid so that a stage of cuts is saved; an outermost grid is ripped first."""
    block = _tidy_inside(block)
    if isinstance(block, Stack) and block.axis == ACROSS:
        return _other_way(block) or block
    return block


def _tidy_inside(block: Block) -> Block:
    if isinstance(block, Leaf):
        return block
    children = []
    for child in block.children:
        inner = _tidy_inside(child)
        flat = _other_way(inner) if isinstance(inner, Stack) and inner.axis != block.axis else None
        children.append(flat or inner)
    return stack(block.axis, children)


def _other_way(grid: Stack) -> Block | None:
    """Rows of equal lengths as columns, or columns as rows; None if the block is no such grid."""
    rows = []
    for child in grid.children:
        cells = child.children if isinstance(child, Stack) else (child,)
        rows.append(sorted(cells, key=lambda cell: _size(cell, 1 - grid.axis)))
    lengths = [[_size(cell, 1 - grid.axis) for cell in row] for row in rows]
    if any(other != lengths[0] for other in lengths):
        return None
    return stack(1 - grid.axis, [stack(grid.axis, list(column)) for column in zip(*rows, strict=True)])


def _size(block: Block, axis: int) -> int:
    return block.height if axis == UPWARD else block.width
