"""A plan for cutting sheets: which sheets, what lies where, and the cuts that free it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from materials.cutting.sheet_problem import SheetProblem


class CutDirection(Enum):
    """Which way the saw runs through a piece."""

    RIP = "rip"  # along the width, with the grain: parts the piece into strips one above another
    CROSSCUT = "crosscut"  # across the grain: parts the piece into lengths side by side


@dataclass(frozen=True)
class Placement:
    """Where one part lies. The corner is the one nearest the origin of the untrimmed sheet."""

    part: int
    x_mm10: int
    y_mm10: int
    width_mm10: int
    height_mm10: int
    turned: bool = False


@dataclass(frozen=True)
class Piece:
    """A rectangle that exists at some moment of the cutting.

    With a `cut` it is parted into its children by parallel cuts, a kerf between neighbours, from the origin
    outward. Without one it is a part (`part` is its index) or a leftover (`part` is None).
    """

    x_mm10: int
    y_mm10: int
    width_mm10: int
    height_mm10: int
    part: int | None = None
    turned: bool = False
    cut: CutDirection | None = None
    children: tuple[Piece, ...] = ()

    @property
    def area(self) -> int:
        """Area in square tenths of a millimetre."""
        return self.width_mm10 * self.height_mm10

    def leaves(self) -> Iterator[Piece]:
        """Parts and leftovers in the order in which they come off the saw."""
        if self.cut is None:
            yield self
        for child in self.children:
            yield from child.leaves()

    def stages(self) -> int:
        """How often the sheet is turned at the saw: levels of cuts, one inside the other."""
        return 0 if self.cut is None else 1 + max(child.stages() for child in self.children)


@dataclass(frozen=True)
class Leftover:
    """A rectangle that is left and worth keeping."""

    x_mm10: int
    y_mm10: int
    width_mm10: int
    height_mm10: int

    @property
    def area(self) -> int:
        """Area in square tenths of a millimetre."""
        return self.width_mm10 * self.height_mm10


@dataclass(frozen=True)
class CutSheet:
    """One sheet, cut `repeat` times the same way. `root` is the usable rectangle inside the trim."""

    stock: int
    root: Piece
    placements: tuple[Placement, ...]
    leftovers: tuple[Leftover, ...] = ()
    repeat: int = 1


@dataclass(frozen=True)
class SheetPlan:
    """A plan for all the parts and how good it is known to be.

    `cost` is what counts: prices plus the keep-values of offcuts used up. No plan can cost less than `bound`;
    `proven` says that none does. `how` names the way the plan was found.
    """

    problem: SheetProblem
    sheets: tuple[CutSheet, ...]
    bound: int = 0
    seconds: float = 0.0
    how: str = ""

    @property
    def cost(self) -> int:
        """Prices of the sheets taken plus the keep-values of offcuts among them."""
        return sum(self.problem.stock[sheet.stock].charge * sheet.repeat for sheet in self.sheets)

    @property
    def to_pay(self) -> int:
        """The prices alone: what the supplier asks for."""
        return sum(self.problem.stock[sheet.stock].cost * sheet.repeat for sheet in self.sheets)

    @property
    def proven(self) -> bool:
        """True where the bound meets the plan, so that no plan costs less."""
        return self.cost <= self.bound

    @property
    def sheet_count(self) -> int:
        """Sheets taken, repeats counted."""
        return sum(sheet.repeat for sheet in self.sheets)

    @property
    def used_area(self) -> int:
        """Area of the parts, in square tenths of a millimetre."""
        return sum(part.width_mm10 * part.height_mm10 * part.quantity for part in self.problem.parts)

    @property
    def taken_area(self) -> int:
        """Area of the whole sheets taken."""
        return sum(_sheet_area(self.problem, sheet) * sheet.repeat for sheet in self.sheets)

    @property
    def yield_permille(self) -> int:
        """Parts in thousandths of the area taken, rounded down; 1000 for a plan of nothing."""
        return 1000 * self.used_area // self.taken_area if self.taken_area else 1000

    @property
    def largest_leftover(self) -> int:
        """Area of the largest single rectangle that is left and worth keeping, 0 if there is none."""
        return max((left.area for sheet in self.sheets for left in sheet.leftovers), default=0)

    def rank(self) -> tuple[int, int, int]:
        """Less is better: the cost, then the number of sheets, then the largest leftover (more is better)."""
        return (self.cost, self.sheet_count, -self.largest_leftover)


def _sheet_area(problem: SheetProblem, sheet: CutSheet) -> int:
    stock = problem.stock[sheet.stock]
    return stock.width_mm10 * stock.height_mm10
