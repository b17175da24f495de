"""Blocks into arrays for the compiled search, and back."""

from __future__ import annotations

import numpy as np

from materials.cutting.blocks import Block, FilledBlank, Layout, Leaf, stack
from materials.cutting.recreate.state import Task, Trees, open_sheet, set_aside, settle
from materials.cutting.recreate.trees import (
    CLOSED,
    FIRST,
    HEIGHT,
    KIND,
    LEAF,
    NEXT,
    NODE_COLUMNS,
    REGISTERS,
    ROOT,
    SHAPE,
    SHEET,
    TURNED,
    WIDTH,
    Ints,
    attach,
    new_leaf,
    new_stack,
)
from materials.cutting.widened import Widened

FREE_SPACE_COUNTS = 0.02  # beside waiting area, both in sheets


def make_task(widened: Widened, costs: list[int], rate: float) -> Task:
    """The task of placing all the pieces; `rate` is about how much money a unit of area takes."""
    blanks = [[b.width, b.height, cost] for b, cost in zip(widened.blanks, costs, strict=True)]
    middling = sum(blank.area for blank in widened.blanks) / len(widened.blanks)
    return Task(
        shapes=np.array([[s.width, s.height, s.may_turn] for s in widened.shapes], dtype=np.int64),
        areas=np.array([float(s.area) for s in widened.shapes]),
        blanks=np.array(blanks, dtype=np.int64),
        budget=np.zeros(1, dtype=np.int64),
        scale=np.array([middling, 1.0 / (rate * middling), FREE_SPACE_COUNTS]),
        desk=np.zeros(3, dtype=np.int64),
        keys=np.zeros(len(widened.shapes) + 1),
    )


def no_trees(widened: Widened) -> Trees:
    """A layout without a sheet, with room for all the pieces."""
    pieces = widened.piece_count
    return Trees(
        nodes=np.full((2 * pieces + 8, NODE_COLUMNS), -1, dtype=np.int64),
        sheets=np.full((pieces + 1, 2), CLOSED, dtype=np.int64),
        free=np.zeros(2 * pieces + 8, dtype=np.int64),
        registers=np.zeros(REGISTERS, dtype=np.int64),
        left=np.zeros(len(widened.shapes), dtype=np.int64),
        waiting=np.zeros(len(widened.shapes) + 1, dtype=np.int64),
        on_hand=np.array([blank.quantity for blank in widened.blanks], dtype=np.int64),
        worth=np.zeros(pieces + 1),
        tally=np.zeros(2),
    )


def trees_of(widened: Widened, task: Task, layout: Layout) -> Trees:
    """The layout in arrays."""
    trees = no_trees(widened)
    for filled in layout:
        sheet = open_sheet(trees, task, filled.blank)
        trees.sheets[sheet, ROOT] = _node_of(trees, filled.block, sheet)
        settle(trees, task, sheet)
    return trees


def waiting_trees(widened: Widened, task: Task) -> Trees:
    """A layout without a sheet, all the pieces waiting."""
    trees = no_trees(widened)
    for index, shape in enumerate(widened.shapes):
        for _ in range(shape.quantity):
            set_aside(trees, task, index)
    return trees


def _node_of(trees: Trees, block: Block, sheet: int) -> int:
    if isinstance(block, Leaf):
        place = (block.shape, int(block.turned), block.width, block.height)
        node = new_leaf(trees.nodes, trees.free, trees.registers, *place)
        trees.nodes[node, SHEET] = sheet
        return node
    node = new_stack(trees.nodes, trees.free, trees.registers, block.axis, sheet)
    trees.nodes[node, WIDTH], trees.nodes[node, HEIGHT] = block.width, block.height
    for child in block.children:
        attach(trees.nodes, node, _node_of(trees, child, sheet))
    return node


def layout_of(trees: Trees) -> Layout:
    """The layout in blocks."""
    return [
        FilledBlank(int(blank), _block_of(trees.nodes, int(root)))
        for root, blank in trees.sheets
        if blank != CLOSED
    ]


def _block_of(nodes: Ints, node: int) -> Block:
    if nodes[node, KIND] == LEAF:
        row = nodes[node]
        return Leaf(int(row[SHAPE]), bool(row[TURNED]), int(row[WIDTH]), int(row[HEIGHT]))
    children = []
    child = int(nodes[node, FIRST])
    while child >= 0:
        children.append(_block_of(nodes, child))
        child = int(nodes[child, NEXT])
    return stack(int(nodes[node, KIND]), children)
