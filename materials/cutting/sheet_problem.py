"""What is to be cut out of sheets: the parts, the sheets to be had, the saw."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Trim:
    """What comes off each side of a sheet before the first part, the trimming blade's own kerf included."""

    left_mm10: int = 0
    right_mm10: int = 0
    bottom_mm10: int = 0
    top_mm10: int = 0

    @classmethod
    def all_round(cls, trim_mm10: int) -> Trim:
        """The same trim on every side."""
        return cls(trim_mm10, trim_mm10, trim_mm10, trim_mm10)


@dataclass(frozen=True)
class SheetStock:
    """A size of sheet that can be had. The grain of the sheet runs along its width.

    `cost` is the price of one in the smallest unit of money (pence); an offcut or a reclaimed sheet costs 0.
    `quantity` is how many there are, None for as many as are wanted. `keep_value` is what an offcut is worth
    left on the rack: it counts as cost when plans are compared, but nobody is charged for it.
    `key` is the caller's own name for the stock and `label` what the maker reads; neither changes the plan.
    """

    width_mm10: int
    height_mm10: int
    cost: int = 1
    quantity: int | None = None
    trim: Trim = field(default_factory=Trim)
    keep_value: int = 0
    key: str = ""
    label: str = ""

    @property
    def usable_width_mm10(self) -> int:
        """Width between the trims."""
        return self.width_mm10 - self.trim.left_mm10 - self.trim.right_mm10

    @property
    def usable_height_mm10(self) -> int:
        """Height between the trims."""
        return self.height_mm10 - self.trim.bottom_mm10 - self.trim.top_mm10

    @property
    def charge(self) -> int:
        """What taking one counts against a plan: its price and what it would be worth if kept."""
        return self.cost + self.keep_value


@dataclass(frozen=True)
class SheetPart:
    """A rectangular part and how many of it are wanted.

    Its grain runs along its width; `may_turn` says that it may lie the other way all the same. Parts that
    share a `family` must run on across their joints: they are cut side by side from one strip, in the order
    given, as long as the strip goes into a sheet that doesn't run out. `phase` is the caller's key of what
    the part is for.
    """

    width_mm10: int
    height_mm10: int
    quantity: int = 1
    may_turn: bool = False
    label: str = ""
    phase: str = ""
    family: str = ""


@dataclass(frozen=True)
class SheetProblem:
    """Parts, sheets and saw. A leftover is worth keeping from the two least sides up."""

    parts: tuple[SheetPart, ...]
    stock: tuple[SheetStock, ...]
    kerf_mm10: int = 0
    least_offcut_short_mm10: int = 0
    least_offcut_long_mm10: int = 0

    def is_useful(self, width_mm10: int, height_mm10: int) -> bool:
        """Is a leftover of this size worth keeping?"""
        short, long = sorted((width_mm10, height_mm10))
        return short > 0 and short >= self.least_offcut_short_mm10 and long >= self.least_offcut_long_mm10

    def lasting_stock(self) -> tuple[SheetStock, ...]:
        """The sheets that never run out; where there is no such, all that are on hand."""
        lasting = tuple(stock for stock in self.stock if stock.quantity is None)
        return lasting or tuple(stock for stock in self.stock if stock.quantity)

    def pieces(self) -> int:
        """How many pieces are wanted in all."""
        return sum(part.quantity for part in self.parts)
