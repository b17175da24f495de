"""Ruin and recreate, compiled: take pieces out of a layout, put them back with the waiting ones.

The way is that of Gardeyn and Wauters (European Journal of Operational Research, 2022): the goal is a layout
cheaper than the best so far, pieces that find no place in it wait, and the search makes their area small.
"""

from __future__ import annotations

from math import exp, inf

from materials.cutting.recreate.compiled import compiled
from materials.cutting.recreate.dice import below, chance
from materials.cutting.recreate.putting import recreate
from materials.cutting.recreate.state import Task, Trees, remove, settle
from materials.cutting.recreate.trees import (
    BLANK,
    COST,
    FREE_COUNT,
    KIND,
    LEAF,
    NODE_COLUMNS,
    PARENT,
    ROOT,
    SHEET,
    TOP,
    WAITING,
    next_in_tree,
)


@compiled
def copy_trees(trees: Trees, saved: Trees) -> None:
    """Write the layout over another. Loops, since they compile in a tenth of the time that slices take."""
    for row in range(trees.registers[TOP]):
        for column in range(NODE_COLUMNS):
            saved.nodes[row, column] = trees.nodes[row, column]
    for i in range(trees.registers[FREE_COUNT]):
        saved.free[i] = trees.free[i]
    for i in range(trees.registers[WAITING]):
        saved.waiting[i] = trees.waiting[i]
    for i in range(trees.registers.size):
        saved.registers[i] = trees.registers[i]
    for i in range(trees.left.size):
        saved.left[i] = trees.left[i]
    for i in range(trees.on_hand.size):
        saved.on_hand[i] = trees.on_hand[i]
    for sheet in range(trees.worth.size):
        saved.worth[sheet] = trees.worth[sheet]
        saved.sheets[sheet, ROOT] = trees.sheets[sheet, ROOT]
        saved.sheets[sheet, BLANK] = trees.sheets[sheet, BLANK]
    for i in range(trees.tally.size):
        saved.tally[i] = trees.tally[i]


@compiled
def random_leaf(trees: Trees) -> int:
    """A piece of the layout, any with the same chance; -1 if it has next to none."""
    for _ in range(200):
        at = below(max(1, trees.registers[TOP]))
        if trees.nodes[at, KIND] == LEAF:
            return at
    return -1


@compiled
def random_leaf_of(trees: Trees, sheet: int) -> int:
    """A piece of the sheet, any with the same chance."""
    count, chosen = 0, -1
    at = trees.sheets[sheet, ROOT]
    while at >= 0:
        if trees.nodes[at, KIND] == LEAF:
            count += 1
            if below(count) == 0:
                chosen = at
        at = next_in_tree(trees.nodes, at)
    return chosen


@compiled
def pieces_on(trees: Trees, sheet: int) -> int:
    """How many pieces the sheet holds."""
    count = 0
    at = trees.sheets[sheet, ROOT]
    while at >= 0:
        if trees.nodes[at, KIND] == LEAF:
            count += 1
        at = next_in_tree(trees.nodes, at)
    return count


@compiled
def ruin_sheet(trees: Trees, task: Task, sheet: int, share: float) -> None:
    """Take about that share of the sheet's pieces out, now and then a whole block of them."""
    count = pieces_on(trees, sheet)
    wanted = max(1, int(share * count + chance()))
    if wanted >= count:
        remove(trees, task, trees.sheets[sheet, ROOT])
        wanted = 0
    while wanted > 0 and trees.sheets[sheet, ROOT] >= 0:
        node = random_leaf_of(trees, sheet)
        while chance() < 0.3 and trees.nodes[node, PARENT] >= 0:
            node = trees.nodes[node, PARENT]
        wanted -= remove(trees, task, node)
    settle(trees, task, sheet)


@compiled
def ruin_here_and_there(trees: Trees, task: Task, most: int) -> None:
    """Take single pieces out all over, now and then the row that a piece lies in."""
    for _ in range(1 + below(most)):
        node = random_leaf(trees)
        if node < 0:
            return
        sheet = trees.nodes[node, SHEET]
        if chance() < 0.15 and trees.nodes[node, PARENT] >= 0:
            node = trees.nodes[node, PARENT]
        remove(trees, task, node)
        settle(trees, task, sheet)


@compiled
def ruin(trees: Trees, task: Task, most: int) -> None:
    """Take something out: here and there, or a good deal of up to three sheets, or all of them."""
    how = chance()
    if how < 0.3:
        ruin_here_and_there(trees, task, most)
        return
    for _ in range(1 + below(3)):
        node = random_leaf(trees)
        if node >= 0:
            share = 1.0 if how > 0.92 else chance() ** 1.5
            ruin_sheet(trees, task, trees.nodes[node, SHEET], share)


@compiled
def badness(trees: Trees, task: Task) -> float:
    """What is to be made small: the area waiting, in sheets, less a little for large free rectangles.

    Money not spent counts as a free sheet that it would buy.
    """
    spare = float(task.budget[0] - trees.registers[COST]) * task.scale[1]
    return trees.tally[0] / task.scale[0] - task.scale[2] * (trees.tally[1] / task.scale[0] ** 2 + spare**2)


@compiled
def improve(trees: Trees, saved: Trees, task: Task, rounds: int, hot: float, cold: float, most: int) -> bool:
    """So many rounds of ruin and recreate, cooling down. True as soon as no piece waits.

    A layout that is worse by as much as the heat is kept with a chance of 1 in e.
    """
    now, blink = inf, 0.0  # the layout to start from is kept whatever it's like
    for turn in range(rounds):
        recreate(trees, task, blink)
        if trees.registers[WAITING] == 0:
            return True
        then = badness(trees, task)
        heat = hot * (cold / hot) ** (turn / rounds)
        if then <= now or chance() < exp((now - then) / heat):
            now = then
            copy_trees(trees, saved)
        else:
            copy_trees(saved, trees)
        ruin(trees, task, most)
        blink = 0.02
    copy_trees(saved, trees)
    return False
