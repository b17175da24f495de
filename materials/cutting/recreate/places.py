"""Where does a piece go best? The place that spoils least of what is still free.

What is free in a sheet is seen as rectangles: behind each row as high as the row, beside each piece as
long as the piece. Each counts with the square of its area, so that one large rectangle is worth more
than two halves, and a piece is drawn to the gap that it fills.
"""

from __future__ import annotations

from math import inf

from materials.cutting.recreate.compiled import compiled
from materials.cutting.recreate.dice import chance
from materials.cutting.recreate.trees import (
    BLANK,
    CAP_H,
    CAP_W,
    FREE,
    HEIGHT,
    KIND,
    LEAF,
    PARENT,
    SHEET,
    TOP,
    WIDTH,
    Ints,
    next_in_tree,
)


@compiled
def free_around(width: int, height: int, room_w: int, room_h: int) -> float:
    """Worth of what is free around the outermost block, cut off the better of the two ways."""
    beside, above = float(room_w - width), float(room_h - height)
    first = (beside * room_h) ** 2 + (above * width) ** 2
    second = (above * room_w) ** 2 + (beside * height) ** 2
    return max(first, second)


@compiled
def spoilt(nodes: Ints, at: int, axis: int, w: int, h: int, room_w: int, room_h: int) -> float:
    """How much worth is lost by putting a piece beside the node along the axis."""
    piece_along, piece_across = (w, h) if axis == 0 else (h, w)
    along, across = nodes[at, axis], nodes[at, 1 - axis]
    new_along, new_across = along + piece_along, max(across, piece_across)
    loss = -((float(new_across - piece_across) * piece_along) ** 2)
    if nodes[at, KIND] != axis:
        loss -= (float(new_across - across) * along) ** 2
    parent = nodes[at, PARENT]
    if parent < 0:
        old = free_around(nodes[at, WIDTH], nodes[at, HEIGHT], room_w, room_h)
        if axis == 0:
            return loss + old - free_around(new_along, new_across, room_w, room_h)
        return loss + old - free_around(new_across, new_along, room_w, room_h)
    room = nodes[parent, axis]
    loss += (float(room - along) * across) ** 2
    if room > new_along:
        loss -= (float(room - new_along) * new_across) ** 2
    # the node grows from (along, across) to (new_along, new_across); its parent lies along the other axis
    grown, wider = new_across - across, new_along
    while parent >= 0:
        axis = nodes[parent, KIND]
        along, across = nodes[parent, axis], nodes[parent, 1 - axis]
        new_along, new_across = along + grown, max(across, wider)
        if new_along == along and new_across == across:
            return loss
        above = nodes[parent, PARENT]
        if above < 0:
            old = free_around(nodes[parent, WIDTH], nodes[parent, HEIGHT], room_w, room_h)
            if axis == 0:
                return loss + old - free_around(new_along, new_across, room_w, room_h)
            return loss + old - free_around(new_across, new_along, room_w, room_h)
        room = nodes[above, axis]
        loss += (float(room - along) * across) ** 2
        if room > new_along:
            loss -= (float(room - new_along) * new_across) ** 2
        grown, wider = new_across - across, new_along
        parent = above
    return loss


@compiled
def best_place(
    nodes: Ints, sheets: Ints, registers: Ints, blanks: Ints, shape: Ints, blink: float, place: Ints
) -> float:
    """The least loss for a piece of the shape (width, height, may turn); infinite if it goes nowhere.

    The node, the axis and whether the piece lies turned are written into `place`.
    """
    least = inf
    ways = 1 if shape[2] == 0 else 2
    shorter = shape[0] if ways == 1 else min(shape[0], shape[1])
    lower = shape[1] if ways == 1 else min(shape[0], shape[1])
    for at in range(registers[TOP]):
        kind = nodes[at, KIND]
        if kind == FREE or shorter > nodes[at, CAP_W] or lower > nodes[at, CAP_H]:
            continue
        first, last = 0, 1  # the axes to try: a stack is lengthened, a piece in a row gets one across the row
        if nodes[at, PARENT] >= 0:
            first = last = kind if kind != LEAF else 1 - nodes[nodes[at, PARENT], KIND]
        for axis in range(first, last + 1):
            room, across = nodes[at, CAP_W + axis] - nodes[at, axis], nodes[at, CAP_H - axis]
            if room < (shorter if axis == 0 else lower):
                continue
            for turned in range(ways):
                w, h = shape[turned], shape[1 - turned]
                if (w if axis == 0 else h) > room or (h if axis == 0 else w) > across or chance() < blink:
                    continue
                blank = sheets[nodes[at, SHEET], BLANK]
                loss = spoilt(nodes, at, axis, w, h, blanks[blank, 0], blanks[blank, 1])
                if loss < least:
                    least = loss
                    place[0], place[1], place[2] = at, axis, turned
    return least


@compiled
def worth_of_free(nodes: Ints, root: int, room_w: int, room_h: int) -> float:
    """Worth of all that is free in a sheet."""
    worth = free_around(nodes[root, WIDTH], nodes[root, HEIGHT], room_w, room_h)
    node = root
    while node >= 0:
        parent = nodes[node, PARENT]
        if parent >= 0:
            axis = 1 - nodes[parent, KIND]
            worth += (float(nodes[parent, axis] - nodes[node, axis]) * nodes[node, 1 - axis]) ** 2
        node = next_in_tree(nodes, node)
    return worth
