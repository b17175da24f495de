"""Layout trees in arrays: one row a node, changed in place by compiled code.

A leaf is a piece; a stack holds two or more children in a row along its axis, each a leaf or a stack along
the other axis. Sizes are widened and tight. `CAP_W` and `CAP_H` say how far a node could grow with all others
as they are: the room of its sheet less what the others need.
"""

from __future__ import annotations

from typing import Any

from materials.cutting.recreate.compiled import compiled

Ints = Any  # numpy arrays of integers: mypy need not look into compiled code
Floats = Any

# columns of a node; the size along axis a stands in column a, its cap in column CAP_W + a
WIDTH, HEIGHT, CAP_W, CAP_H, KIND, PARENT, FIRST, NEXT, PREV, SHAPE, TURNED, SHEET = range(12)
NODE_COLUMNS = 12
LEAF, FREE = 2, -1  # kinds besides the two axes
# columns of a sheet
ROOT, BLANK = range(2)
CLOSED = -1
# columns of the registers
TOP, FREE_COUNT, WAITING, COST = range(4)
REGISTERS = 4


@compiled
def new_node(free: Ints, registers: Ints) -> int:
    """A row to write on: one that was given back, else the next."""
    if registers[FREE_COUNT] > 0:
        registers[FREE_COUNT] -= 1
        return free[registers[FREE_COUNT]]
    registers[TOP] += 1
    return registers[TOP] - 1


@compiled
def give_back(nodes: Ints, free: Ints, registers: Ints, node: int) -> None:
    """The row is free again."""
    nodes[node, KIND] = FREE
    free[registers[FREE_COUNT]] = node
    registers[FREE_COUNT] += 1


@compiled
def attach(nodes: Ints, parent: int, child: int) -> None:
    """Make the child the parent's first."""
    first = nodes[parent, FIRST]
    nodes[child, PARENT] = parent
    nodes[child, PREV] = -1
    nodes[child, NEXT] = first
    if first >= 0:
        nodes[first, PREV] = child
    nodes[parent, FIRST] = child


@compiled
def detach(nodes: Ints, child: int) -> None:
    """Take the child out of its parent's row."""
    before, after, parent = nodes[child, PREV], nodes[child, NEXT], nodes[child, PARENT]
    if before >= 0:
        nodes[before, NEXT] = after
    else:
        nodes[parent, FIRST] = after
    if after >= 0:
        nodes[after, PREV] = before


@compiled
def put_in_place_of(nodes: Ints, sheets: Ints, old: int, new: int) -> None:
    """Let the new node stand where the old one stood."""
    parent, before, after = nodes[old, PARENT], nodes[old, PREV], nodes[old, NEXT]
    nodes[new, PARENT], nodes[new, PREV], nodes[new, NEXT] = parent, before, after
    if before >= 0:
        nodes[before, NEXT] = new
    elif parent >= 0:
        nodes[parent, FIRST] = new
    else:
        sheets[nodes[old, SHEET], ROOT] = new
    if after >= 0:
        nodes[after, PREV] = new


@compiled
def tighten(nodes: Ints, node: int) -> None:
    """Work out the sizes again from this node up to the root."""
    while node >= 0:
        axis = nodes[node, KIND]
        along, across = 0, 0
        child = nodes[node, FIRST]
        while child >= 0:
            along += nodes[child, axis]
            across = max(across, nodes[child, 1 - axis])
            child = nodes[child, NEXT]
        nodes[node, axis], nodes[node, 1 - axis] = along, across
        node = nodes[node, PARENT]


@compiled
def set_caps(nodes: Ints, root: int, width: int, height: int) -> None:
    """Work out how far each node of a sheet could grow."""
    nodes[root, CAP_W], nodes[root, CAP_H] = width, height
    node = root
    while node >= 0:
        axis = nodes[node, KIND]
        if axis != LEAF:
            slack, across = nodes[node, CAP_W + axis] - nodes[node, axis], nodes[node, CAP_H - axis]
            child = nodes[node, FIRST]
            while child >= 0:
                nodes[child, CAP_W + axis] = nodes[child, axis] + slack
                nodes[child, CAP_H - axis] = across
                child = nodes[child, NEXT]
        node = next_in_tree(nodes, node)


@compiled
def next_in_tree(nodes: Ints, node: int) -> int:
    """The node after this one, parents before children; -1 after the last."""
    if nodes[node, KIND] != LEAF:
        return nodes[node, FIRST]
    return next_beside(nodes, node)


@compiled
def next_beside(nodes: Ints, node: int) -> int:
    """The node after this one and all below it; -1 after the last."""
    while node >= 0:
        if nodes[node, NEXT] >= 0:
            return nodes[node, NEXT]
        node = nodes[node, PARENT]
    return -1


@compiled
def cut_off(nodes: Ints, sheets: Ints, free: Ints, registers: Ints, node: int) -> None:
    """Take a node with all below it out of its sheet; its rows stay as they are, for the caller to give back.

    A stack left with one child gives way to that child, whose own children join the row above if they lie
    along the same axis.
    """
    parent = nodes[node, PARENT]
    if parent < 0:
        sheets[nodes[node, SHEET], ROOT] = -1
        return
    detach(nodes, node)
    only = nodes[parent, FIRST]
    if nodes[only, NEXT] >= 0:
        tighten(nodes, parent)
        return
    above = nodes[parent, PARENT]
    put_in_place_of(nodes, sheets, parent, only)
    give_back(nodes, free, registers, parent)
    if above >= 0 and nodes[only, KIND] == nodes[above, KIND]:
        detach(nodes, only)
        child = nodes[only, FIRST]
        while child >= 0:
            after = nodes[child, NEXT]
            attach(nodes, above, child)
            child = after
        give_back(nodes, free, registers, only)
    tighten(nodes, above)


@compiled
def new_leaf(
    nodes: Ints, free: Ints, registers: Ints, shape: int, turned: int, width: int, height: int
) -> int:
    """A leaf for one piece, in no sheet yet."""
    leaf = new_node(free, registers)
    nodes[leaf, KIND], nodes[leaf, SHAPE], nodes[leaf, TURNED] = LEAF, shape, turned
    nodes[leaf, WIDTH], nodes[leaf, HEIGHT] = width, height
    nodes[leaf, PARENT] = nodes[leaf, FIRST] = nodes[leaf, NEXT] = nodes[leaf, PREV] = -1
    return leaf


@compiled
def new_stack(nodes: Ints, free: Ints, registers: Ints, axis: int, sheet: int) -> int:
    """A stack without children."""
    row = new_node(free, registers)
    nodes[row, KIND], nodes[row, SHEET] = axis, sheet
    nodes[row, PARENT] = nodes[row, FIRST] = nodes[row, NEXT] = nodes[row, PREV] = -1
    return row


@compiled
def join(nodes: Ints, sheets: Ints, free: Ints, registers: Ints, at: int, axis: int, leaf: int) -> None:
    """Put the leaf beside the node along the axis: into its row if that lies along it, else a new one."""
    sheet = nodes[at, SHEET]
    nodes[leaf, SHEET] = sheet
    if nodes[at, KIND] == axis:
        attach(nodes, at, leaf)
        tighten(nodes, at)
        return
    row = new_stack(nodes, free, registers, axis, sheet)
    put_in_place_of(nodes, sheets, at, row)
    attach(nodes, row, at)
    attach(nodes, row, leaf)
    tighten(nodes, row)
