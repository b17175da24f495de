"""The same problem without a kerf: parts and sheets each widened by one kerf, like parts taken together.

A piece W wide, cut by a blade k wide into a part w and a rest, leaves W - w - k. Written with w' = w + k and
W' = W + k that is W' - w': the kerf is gone. So every search below the public entry adds and subtracts whole
sizes only, and a part whose offcut is thinner than the blade still fits.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from materials.cutting.sheet_checks import goes_into
from materials.cutting.sheet_problem import SheetPart, SheetProblem


@dataclass(frozen=True)
class Shape:
    """A widened size and the wanted number of it. `may_turn` is false for squares, which needn't."""

    width: int
    height: int
    quantity: int
    may_turn: bool

    @property
    def area(self) -> int:
        """Widened area."""
        return self.width * self.height

    def goes_into(self, blank: Blank) -> bool:
        """Does one such piece go into one such sheet, by itself?"""
        straight = self.width <= blank.width and self.height <= blank.height
        return straight or (self.may_turn and self.height <= blank.width and self.width <= blank.height)


@dataclass(frozen=True)
class Blank:
    """A widened usable sheet. `quantity` is never None: as many as there are pieces will always do."""

    stock: int
    width: int
    height: int
    cost: int
    quantity: int

    @property
    def area(self) -> int:
        """Widened area."""
        return self.width * self.height


@dataclass(frozen=True)
class Widened:
    """Shapes and blanks. `members[s]` are the pieces of shape s, each the row of parts that it is cut into:
    one part as a rule, several for a family that lines up."""

    shapes: tuple[Shape, ...]
    blanks: tuple[Blank, ...]
    members: tuple[tuple[tuple[int, ...], ...], ...]
    kerf: int

    @property
    def piece_count(self) -> int:
        """How many pieces are wanted in all."""
        return sum(shape.quantity for shape in self.shapes)


def widen(problem: SheetProblem) -> Widened:
    """The kerf-free problem; shapes by falling area, whatever the order of entry."""
    kerf = problem.kerf_mm10
    groups: dict[tuple[int, int, bool], list[tuple[int, ...]]] = defaultdict(list)
    for row in _rows(problem):
        groups[_row_size(problem, row)].append(row)
    order = sorted(groups, key=lambda size: (-size[0] * size[1], size))
    shapes = tuple(Shape(w, h, len(groups[w, h, turn]), turn) for w, h, turn in order)
    pieces = sum(shape.quantity for shape in shapes)
    blanks = tuple(
        Blank(
            stock=index,
            width=stock.usable_width_mm10 + kerf,
            height=stock.usable_height_mm10 + kerf,
            cost=stock.charge,
            quantity=pieces if stock.quantity is None else min(stock.quantity, pieces),
        )
        for index, stock in enumerate(problem.stock)
        if stock.quantity != 0
    )
    return Widened(shapes, blanks, tuple(tuple(groups[size]) for size in order), kerf)


def _row_size(problem: SheetProblem, row: tuple[int, ...]) -> tuple[int, int, bool]:
    parts = [problem.parts[index] for index in row]
    width = sum(part.width_mm10 + problem.kerf_mm10 for part in parts)
    height = max(part.height_mm10 for part in parts) + problem.kerf_mm10
    may_turn = all(part.may_turn for part in parts) and width != height
    if may_turn and len(row) == 1 and height > width:
        width, height = height, width  # the same piece either way up: one shape, not two
    return width, height, may_turn


def _rows(problem: SheetProblem) -> list[tuple[int, ...]]:
    """Every piece wanted, those of a family joined into rows as long as a sheet allows."""
    rows: list[tuple[int, ...]] = []
    families: dict[str, list[int]] = defaultdict(list)
    for index, part in enumerate(problem.parts):
        if part.family:
            families[part.family].extend([index] * part.quantity)
        else:
            rows.extend([(index,)] * part.quantity)
    for pieces in families.values():
        rows.extend(_family_rows(problem, pieces))
    return rows


def _family_rows(problem: SheetProblem, pieces: list[int]) -> list[tuple[int, ...]]:
    """The pieces of one family in as few rows as a sheet that doesn't run out allows, in the order given."""
    rows: list[tuple[int, ...]] = []
    current: list[int] = []
    for piece in pieces:
        if current and not _row_fits(problem, [problem.parts[index] for index in (*current, piece)]):
            rows.append(tuple(current))
            current = []
        current.append(piece)
    rows.append(tuple(current))
    return rows


def _row_fits(problem: SheetProblem, parts: list[SheetPart]) -> bool:
    long = sum(part.width_mm10 for part in parts) + problem.kerf_mm10 * (len(parts) - 1)
    high = max(part.height_mm10 for part in parts)
    row = SheetPart(long, high, may_turn=all(part.may_turn for part in parts))
    return any(goes_into(row, stock) for stock in problem.lasting_stock())
