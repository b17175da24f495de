"""Put the waiting pieces into a layout, one after another, each where it spoils least."""

from __future__ import annotations

from math import inf

from materials.cutting.recreate.compiled import compiled, woven_in
from materials.cutting.recreate.dice import chance
from materials.cutting.recreate.places import best_place
from materials.cutting.recreate.state import Task, Trees, open_sheet, settle
from materials.cutting.recreate.trees import COST, ROOT, SHEET, WAITING, join, new_leaf


@woven_in
def lies_straight(task: Task, shape: int, blank: int) -> bool:
    """Does the shape go into the blank as it is?"""
    return task.shapes[shape, 0] <= task.blanks[blank, 0] and task.shapes[shape, 1] <= task.blanks[blank, 1]


@woven_in
def lies_turned(task: Task, shape: int, blank: int) -> bool:
    """Does it go in turned, and may it?"""
    if task.shapes[shape, 2] == 0:
        return False
    return task.shapes[shape, 1] <= task.blanks[blank, 0] and task.shapes[shape, 0] <= task.blanks[blank, 1]


@compiled
def choose_blank(trees: Trees, task: Task, shape: int) -> int:
    """A sheet within the budget that the shape goes into: as a rule cheap for its area; -1 if none."""
    chosen, least = -1, inf
    by_price = chance() < 0.5
    for blank in range(task.blanks.shape[0]):
        width, height, cost = task.blanks[blank, 0], task.blanks[blank, 1], task.blanks[blank, 2]
        if trees.on_hand[blank] <= 0 or trees.registers[COST] + cost > task.budget[0]:
            continue
        if lies_straight(task, shape, blank) or lies_turned(task, shape, blank):
            score = chance()
            if by_price:
                score = (cost + 1e-3) / (float(width) * height) * (1.0 + 0.2 * score)
            if score < least:
                least, chosen = score, blank
    return chosen


@compiled
def start_sheet(trees: Trees, task: Task, shape: int) -> int:
    """Open a sheet with one piece of the shape on it; -1 if the budget doesn't allow it."""
    blank = choose_blank(trees, task, shape)
    if blank < 0:
        return -1
    sheet = open_sheet(trees, task, blank)
    straight, turned = lies_straight(task, shape, blank), lies_turned(task, shape, blank)
    leaf = leaf_of(trees, task, shape, 1 if turned and (not straight or chance() < 0.5) else 0)
    trees.nodes[leaf, SHEET] = sheet
    trees.sheets[sheet, ROOT] = leaf
    return sheet


@compiled
def leaf_of(trees: Trees, task: Task, shape: int, turned: int) -> int:
    """A leaf for one piece of the shape."""
    w, h = task.shapes[shape, 0], task.shapes[shape, 1]
    if turned != 0:
        w, h = h, w
    return new_leaf(trees.nodes, trees.free, trees.registers, shape, turned, w, h)


@compiled
def place_piece(trees: Trees, task: Task, shape: int, blink: float) -> bool:
    """Put one waiting piece of the shape into the layout; False if it goes nowhere."""
    spot = task.desk
    least = best_place(
        trees.nodes, trees.sheets, trees.registers, task.blanks, task.shapes[shape], blink, spot
    )
    if least < inf:
        sheet = trees.nodes[spot[0], SHEET]
        leaf = leaf_of(trees, task, shape, spot[2])
        join(trees.nodes, trees.sheets, trees.free, trees.registers, spot[0], spot[1], leaf)
    else:
        sheet = start_sheet(trees, task, shape)
        if sheet < 0:
            return False
    settle(trees, task, sheet)
    trees.left[shape] -= 1
    trees.tally[0] -= task.areas[shape]
    return True


@compiled
def sort_waiting(trees: Trees, task: Task) -> None:
    """The order in which pieces are put back: by area, by long side, by girth or by chance, shaken."""
    order, shake = chance(), chance() ** 2
    for i in range(trees.registers[WAITING]):
        shape = trees.waiting[i]
        w, h = float(task.shapes[shape, 0]), float(task.shapes[shape, 1])
        if order < 0.5:
            key = w * h
        elif order < 0.8:
            key = max(w, h) ** 2
        elif order < 0.9:
            key = (w + h) ** 2
        else:
            key = chance()
        key *= 1.0 + shake * (chance() - 0.5)
        j = i
        while j > 0 and task.keys[j - 1] < key:
            task.keys[j] = task.keys[j - 1]
            trees.waiting[j] = trees.waiting[j - 1]
            j -= 1
        task.keys[j] = key
        trees.waiting[j] = shape


@compiled
def recreate(trees: Trees, task: Task, blink: float) -> None:
    """Put back what goes in. Each possible place is overlooked with the chance `blink`."""
    sort_waiting(trees, task)
    kept = 0
    for i in range(trees.registers[WAITING]):
        shape = trees.waiting[i]
        while trees.left[shape] > 0 and place_piece(trees, task, shape, blink):
            pass
        if trees.left[shape] > 0:
            trees.waiting[kept] = shape
            kept += 1
    trees.registers[WAITING] = kept
