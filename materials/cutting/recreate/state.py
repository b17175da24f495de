"""A layout in arrays with what it leaves out and costs, and the steps that keep the tally right."""

from __future__ import annotations

from typing import NamedTuple

from materials.cutting.recreate.compiled import compiled
from materials.cutting.recreate.places import worth_of_free
from materials.cutting.recreate.trees import (
    BLANK,
    CLOSED,
    COST,
    FIRST,
    KIND,
    LEAF,
    NEXT,
    PARENT,
    ROOT,
    SHAPE,
    WAITING,
    Floats,
    Ints,
    cut_off,
    give_back,
    next_in_tree,
    set_caps,
)


class Trees(NamedTuple):
    """A layout. `left` counts the waiting pieces of each shape, `waiting` lists the shapes that have any.

    `worth` is what is free in each sheet; `tally` holds the area that waits and the sum of the worths.
    """

    nodes: Ints
    sheets: Ints
    free: Ints
    registers: Ints
    left: Ints
    waiting: Ints
    on_hand: Ints
    worth: Floats
    tally: Floats


class Task(NamedTuple):
    """What the layouts are for: shapes (width, height, may turn), their areas, blanks (width, height, cost).

    `budget` is the most that the sheets may cost. `scale`: area of a middling sheet, how much of it one unit
    of money buys, and how much free space counts beside waiting area. `desk` and `keys` are for jotting.
    """

    shapes: Ints
    areas: Floats
    blanks: Ints
    budget: Ints
    scale: Floats
    desk: Ints
    keys: Floats


@compiled
def set_aside(trees: Trees, task: Task, shape: int) -> None:
    """One more piece of the shape waits."""
    if trees.left[shape] == 0:
        trees.waiting[trees.registers[WAITING]] = shape
        trees.registers[WAITING] += 1
    trees.left[shape] += 1
    trees.tally[0] += task.areas[shape]


@compiled
def settle(trees: Trees, task: Task, sheet: int) -> None:
    """After a change on a sheet: how far things could grow and what is free; an empty sheet is closed."""
    trees.tally[1] -= trees.worth[sheet]
    trees.worth[sheet] = 0.0
    root, blank = trees.sheets[sheet, ROOT], trees.sheets[sheet, BLANK]
    if blank == CLOSED:
        return
    if root < 0:
        trees.registers[COST] -= task.blanks[blank, 2]
        trees.on_hand[blank] += 1
        trees.sheets[sheet, BLANK] = CLOSED
        return
    width, height = task.blanks[blank, 0], task.blanks[blank, 1]
    set_caps(trees.nodes, root, width, height)
    trees.worth[sheet] = worth_of_free(trees.nodes, root, width, height)
    trees.tally[1] += trees.worth[sheet]


@compiled
def remove(trees: Trees, task: Task, node: int) -> int:
    """Take a node out with all below it: its pieces wait. How many they are."""
    nodes = trees.nodes
    cut_off(nodes, trees.sheets, trees.free, trees.registers, node)
    nodes[node, PARENT] = nodes[node, NEXT] = -1
    count = 0
    at = node
    while at >= 0:
        if nodes[at, KIND] == LEAF:
            set_aside(trees, task, nodes[at, SHAPE])
            count += 1
        at = next_in_tree(nodes, at)
    give_all_back(trees, node)
    return count


@compiled
def give_all_back(trees: Trees, node: int) -> None:
    """Give the rows of a node and all below it back, children before their parents."""
    nodes = trees.nodes
    at = first_leaf(nodes, node)
    while at >= 0:
        parent, after = nodes[at, PARENT], nodes[at, NEXT]
        give_back(nodes, trees.free, trees.registers, at)
        if at == node:
            return
        at = first_leaf(nodes, after) if after >= 0 else parent


@compiled
def first_leaf(nodes: Ints, node: int) -> int:
    """The first piece below the node."""
    while nodes[node, KIND] != LEAF:
        node = nodes[node, FIRST]
    return node


@compiled
def open_sheet(trees: Trees, task: Task, blank: int) -> int:
    """Take a sheet of the blank."""
    sheet = 0
    while trees.sheets[sheet, BLANK] != CLOSED:
        sheet += 1
    trees.sheets[sheet, BLANK] = blank
    trees.on_hand[blank] -= 1
    trees.registers[COST] += task.blanks[blank, 2]
    return sheet
