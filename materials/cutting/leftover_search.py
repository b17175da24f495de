"""When cost and number of sheets can't be less: leave one rectangle as large as can be.

One sheet is offered smaller than it is, by a little more than the largest leftover so far, and a trifle
cheaper; a layout that uses it leaves that much in one piece.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace

from materials.cutting.blocks import FilledBlank, Layout
from materials.cutting.recreate_search import counted_costs
from materials.cutting.widened import Blank, Widened

STEPS_A_TRY = 12
GROWTH = (1.4, 1.15, 1.05)  # how much larger a leftover is asked for, boldly at first
MOST_PIECES = 600


def larger_leftovers(
    widened: Widened, layout: Layout, largest: Callable[[], int], is_over: Callable[[], bool]
) -> Iterator[Layout]:
    """Layouts of the same cost that leave more in one piece. `largest` tells what the best so far leaves."""
    if widened.piece_count > MOST_PIECES:
        return
    growth = 0
    while growth < len(GROWTH):
        before = largest()
        wanted = int(before * GROWTH[growth]) + 1
        found = next(_layouts_leaving(widened, layout, wanted, is_over), None)
        if is_over():
            return
        if found is None:
            growth += 1
        else:
            layout = found
            yield layout
            if largest() <= before:  # what was left wasn't worth keeping
                growth += 1


def _layouts_leaving(
    widened: Widened, layout: Layout, wanted: int, is_over: Callable[[], bool]
) -> Iterator[Layout]:
    for index in sorted({filled.blank for filled in layout}):
        for smaller in _smaller(widened.blanks[index], wanted, widened.kerf):
            found = _with_smaller(widened, layout, index, smaller, is_over)
            if found is not None:
                yield found


def _smaller(blank: Blank, wanted: int, kerf: int) -> Iterator[Blank]:
    """The blank less a strip of the wanted area, off its side or off its top."""
    off_side = -(-wanted // max(1, blank.height - kerf)) + kerf
    off_top = -(-wanted // max(1, blank.width - kerf)) + kerf
    if off_top < blank.height:
        yield replace(blank, height=blank.height - off_top, quantity=1)
    if off_side < blank.width:
        yield replace(blank, width=blank.width - off_side, quantity=1)


def _with_smaller(
    widened: Widened, layout: Layout, index: int, smaller: Blank, is_over: Callable[[], bool]
) -> Layout | None:
    """A layout of the same sheets, one of which need only be the smaller."""
    from materials.cutting.recreate.recreator import Recreator  # slow import: numba

    offered = replace(widened, blanks=(*widened.blanks, smaller))
    costs = [2 * cost for cost in counted_costs(widened)]
    recreator = Recreator(offered, [*costs, costs[index] - 1], layout, 3)
    recreator.aim_below(layout)
    for _ in range(STEPS_A_TRY):
        found = recreator.step()
        if found is not None:
            renamed = [FilledBlank(index if f.blank == len(costs) else f.blank, f.block) for f in found]
            return renamed if _are_on_hand(widened, renamed) else None
        if is_over():
            return None
    return None


def _are_on_hand(widened: Widened, layout: Layout) -> bool:
    """The smaller sheet is one of its kind, so the kind may have run out over it."""
    taken = Counter(filled.blank for filled in layout)
    return all(count <= widened.blanks[index].quantity for index, count in taken.items())
