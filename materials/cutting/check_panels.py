"""Could a saw carry this plan out? The judge that knows nothing of how plans are found.

Two independent looks. The placements alone must be separable by cuts from edge to edge, each a kerf wide.
And the tree of cuts, followed piece by piece, must free exactly those placements.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from materials.cutting.sheet_plan import CutDirection, CutSheet, Piece, Placement, SheetPlan
from materials.cutting.sheet_problem import SheetProblem

Span = tuple[int, int]


def faults_of_plan(plan: SheetPlan) -> list[str]:
    """Everything wrong with the plan; empty when it can be cut as drawn."""
    problem = plan.problem
    faults = [
        f"sheet {number}: {fault}"
        for number, sheet in enumerate(plan.sheets, start=1)
        for fault in faults_of_sheet(problem, sheet)
    ]
    return [*faults, *_count_faults(problem, plan.sheets), *_family_faults(problem, plan.sheets)]


def faults_of_sheet(problem: SheetProblem, sheet: CutSheet) -> list[str]:
    """Everything wrong with one sheet by itself."""
    if not 0 <= sheet.stock < len(problem.stock):
        return [f"there is no stock {sheet.stock}"]
    if sheet.repeat < 1 or not sheet.placements:
        return ["nothing is cut from it"]
    faults = [
        fault for placement in sheet.placements for fault in _placement_faults(problem, sheet, placement)
    ]
    if not faults and not is_guillotine(sheet.placements, problem.kerf_mm10):
        faults.append("no edge-to-edge cuts free the parts")
    return faults or list(_tree_faults(problem, sheet))


def _placement_faults(problem: SheetProblem, sheet: CutSheet, placement: Placement) -> Iterator[str]:
    if not 0 <= placement.part < len(problem.parts):
        yield f"there is no part {placement.part}"
        return
    part, stock = problem.parts[placement.part], problem.stock[sheet.stock]
    size = (placement.width_mm10, placement.height_mm10)
    wanted = (part.width_mm10, part.height_mm10)
    if size != (wanted[::-1] if placement.turned else wanted):
        yield f"part {placement.part} lies there as {size}, not {wanted}"
    if placement.turned and not part.may_turn:
        yield f"part {placement.part} lies across its grain"
    right = stock.width_mm10 - stock.trim.right_mm10
    top = stock.height_mm10 - stock.trim.top_mm10
    if not (
        stock.trim.left_mm10 <= placement.x_mm10 <= right - placement.width_mm10
        and stock.trim.bottom_mm10 <= placement.y_mm10 <= top - placement.height_mm10
    ):
        yield f"part {placement.part} reaches into the trim or off the sheet"


def is_guillotine(placements: Sequence[Placement], kerf_mm10: int) -> bool:
    """Do cuts from edge to edge, each a kerf wide, free every part from every other?

    A group of parts is looked at from below and from the side in turn. Seen along an axis, each part covers a
    span; a cut goes through wherever no span stands for a kerf's width. Which cut is made first doesn't
    matter: parts that could be cut free still can be when fewer are there. A group that no cut divides along
    either axis is stuck. Overlapping parts are never divided, so they are stuck too.
    """
    waiting: list[list[Placement]] = [list(placements)]
    while waiting:
        group = waiting.pop()
        if len(group) == 1:
            continue
        parted = _parted(group, kerf_mm10, upward=True)
        if len(parted) == 1:
            parted = _parted(group, kerf_mm10, upward=False)
        if len(parted) == 1:
            return False
        waiting.extend(parted)
    return True


def _parted(group: list[Placement], kerf_mm10: int, *, upward: bool) -> list[list[Placement]]:
    """The group divided by all the cuts that can be made across one axis."""
    spans = [_span(placement, upward=upward) for placement in group]
    cuts = _clear_starts(spans, kerf_mm10)
    buckets: dict[int, list[Placement]] = defaultdict(list)
    for placement, (start, _) in zip(group, spans, strict=True):
        buckets[bisect_right(cuts, start)].append(placement)
    return list(buckets.values())


def _clear_starts(spans: list[Span], kerf_mm10: int) -> list[int]:
    """The starts just before which a cut goes through: all that began before have ended a kerf ago."""
    starts = sorted(start for start, _ in spans)
    ends = sorted(end + kerf_mm10 for _, end in spans)
    return [s for s in sorted(set(starts)) if 0 < bisect_left(starts, s) == bisect_right(ends, s)]


def _span(placement: Placement, *, upward: bool) -> Span:
    if upward:
        return placement.y_mm10, placement.y_mm10 + placement.height_mm10
    return placement.x_mm10, placement.x_mm10 + placement.width_mm10


def _tree_faults(problem: SheetProblem, sheet: CutSheet) -> Iterator[str]:
    """Follow the cuts: each piece must be parted exactly into its children, the blade between them."""
    stock = problem.stock[sheet.stock]
    usable = (stock.trim.left_mm10, stock.trim.bottom_mm10, stock.usable_width_mm10, stock.usable_height_mm10)
    if _box(sheet.root) != usable:
        yield "the first piece is not the trimmed sheet"
    waiting, freed = [sheet.root], []
    while waiting:
        piece = waiting.pop()
        if piece.cut is not None:
            yield from _piece_faults(piece, problem.kerf_mm10)
            waiting.extend(piece.children)
        elif piece.part is not None:
            freed.append((piece.part, *_box(piece)))
    drawn = [(p.part, p.x_mm10, p.y_mm10, p.width_mm10, p.height_mm10) for p in sheet.placements]
    if sorted(freed) != sorted(drawn):
        yield "the cuts free other parts than the drawing shows"


def _piece_faults(piece: Piece, kerf_mm10: int) -> Iterator[str]:
    if not piece.children:
        yield "a cut that frees nothing"
        return
    upward = piece.cut is CutDirection.RIP
    x, y, width, height = _box(piece)
    at, end = (y, y + height) if upward else (x, x + width)
    for child in piece.children:
        along = child.height_mm10 if upward else child.width_mm10
        side = (x, at, width, along) if upward else (at, y, along, height)
        if along <= 0 or _box(child) != side:
            yield f"a cut frees {_box(child)} where {side} lies"
        at += along + kerf_mm10
    if at - kerf_mm10 > end:
        yield "a cut beyond the edge"
    elif at < end:
        yield "a leftover that the cuts don't account for"


def _box(piece: Piece) -> tuple[int, int, int, int]:
    return piece.x_mm10, piece.y_mm10, piece.width_mm10, piece.height_mm10


def _count_faults(problem: SheetProblem, sheets: Sequence[CutSheet]) -> Iterator[str]:
    made: Counter[int] = Counter()
    taken: Counter[int] = Counter()
    for sheet in sheets:
        taken[sheet.stock] += sheet.repeat
        for placement in sheet.placements:
            made[placement.part] += sheet.repeat
    for index, part in enumerate(problem.parts):
        if made[index] != part.quantity:
            yield f"part {index}: {made[index]} made, {part.quantity} wanted"
    for index, stock in enumerate(problem.stock):
        if stock.quantity is not None and taken[index] > stock.quantity:
            yield f"stock {index}: {taken[index]} taken, {stock.quantity} on hand"


def _family_faults(problem: SheetProblem, sheets: Sequence[CutSheet]) -> Iterator[str]:
    """A family that goes into one strip must lie in one; a longer one in strips not needlessly many."""
    for family in sorted({part.family for part in problem.parts if part.family}):
        strips = sum(_strips(problem, sheet, family) * sheet.repeat for sheet in sheets)
        most = _most_strips(problem, family)
        if strips > most:
            yield f"family {family}: lies in {strips} strips, {most} would do"


def _strips(problem: SheetProblem, sheet: CutSheet, family: str) -> int:
    """In how many unbroken rows the family's parts lie on the sheet: side by side, a kerf between."""
    rows: dict[tuple[bool, int], list[Span]] = defaultdict(list)
    for place in sheet.placements:
        if problem.parts[place.part].family == family:
            base = place.x_mm10 if place.turned else place.y_mm10
            rows[place.turned, base].append(_span(place, upward=place.turned))
    strips = 0
    for spans in rows.values():
        spans.sort()
        ends = {end + problem.kerf_mm10 for _, end in spans}
        strips += sum(1 for start, _ in spans if start not in ends)
    return strips


def _most_strips(problem: SheetProblem, family: str) -> int:
    parts = [part for part in problem.parts if part.family == family]
    long = sum((part.width_mm10 + problem.kerf_mm10) * part.quantity for part in parts)
    high = max(part.height_mm10 for part in parts)
    turns = all(part.may_turn for part in parts)
    rooms = [(each.usable_width_mm10, each.usable_height_mm10) for each in problem.lasting_stock()]
    lengths = [width for width, height in rooms if high <= height]
    lengths += [height for width, height in rooms if turns and high <= width]
    room = max(lengths, default=1) + problem.kerf_mm10
    return 1 if long <= room else 2 * -(-long // room)
