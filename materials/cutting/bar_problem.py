"""What is to be cut from boards, and what boards there are to cut it from."""

from __future__ import annotations

from dataclasses import dataclass

from .faults import CannotCut, Fault, in_mm

MOST_PIECES = 100_000
MOST_LENGTH_MM10 = 1_000_000_000


@dataclass(frozen=True)
class BarStock:
    """A length that can be had: bought at a price, lying on the rack as an offcut, or reclaimed for nothing.

    `cost` is money in the smallest unit the caller chooses. `keep_value`, in the same unit, is what a piece
    would be worth if it stayed on the rack; using it up counts that much against a plan. `quantity` None
    means as many as wanted. `trim_mm10`, taken off each end, stands in for the problem's where it is given.
    """

    length_mm10: int
    cost: int = 0
    quantity: int | None = None
    label: str = ""
    key: str = ""
    keep_value: int = 0
    trim_mm10: int | None = None

    @property
    def charge(self) -> int:
        """What taking one of these counts against a plan: its price and what it would be worth if kept."""
        return self.cost + self.keep_value


@dataclass(frozen=True)
class BarPart:
    """So many pieces of one length, for one phase of the job."""

    length_mm10: int
    quantity: int = 1
    label: str = ""
    phase: str = ""


@dataclass(frozen=True)
class BarProblem:
    """Parts of one section, the stock they may be cut from, and how the saw takes its share.

    Each cut turns `kerf_mm10` into dust; `trim_mm10` is taken off both ends of every bar first (its own
    kerf counted in). What is left of a bar is worth keeping from `least_offcut_mm10` up.
    """

    stock: tuple[BarStock, ...]
    parts: tuple[BarPart, ...]
    kerf_mm10: int = 0
    trim_mm10: int = 0
    least_offcut_mm10: int = 0

    def trim_of(self, stock: BarStock) -> int:
        """Tenths of a millimetre that come off each end of this stock."""
        return self.trim_mm10 if stock.trim_mm10 is None else stock.trim_mm10

    def usable_mm10(self, stock: BarStock) -> int:
        """What is left to cut from between the two trimmed ends."""
        return stock.length_mm10 - 2 * self.trim_of(stock)

    def pieces(self) -> int:
        """Number of pieces asked for."""
        return sum(part.quantity for part in self.parts)


def check_problem(problem: BarProblem) -> None:
    """Raise CannotCut with all that makes no sense; if nothing, with the parts that fit nothing."""
    faults = [*_size_faults(problem), *_stock_faults(problem), *_part_faults(problem)]
    if not faults:
        faults = _fit_faults(problem)
    if faults:
        raise CannotCut(tuple(faults))


def _size_faults(problem: BarProblem) -> list[Fault]:
    faults = []
    if problem.kerf_mm10 < 0:
        faults.append(Fault("kerf", None, "The kerf is below nothing"))
    if problem.trim_mm10 < 0:
        faults.append(Fault("trim", None, "The end trim is below nothing"))
    if problem.least_offcut_mm10 < 0:
        faults.append(Fault("least_offcut", None, "The least offcut worth keeping is below nothing"))
    if problem.pieces() > MOST_PIECES:
        faults.append(
            Fault("parts", None, f"{problem.pieces()} pieces are more than one plan takes ({MOST_PIECES})")
        )
    return faults


def _stock_faults(problem: BarProblem) -> list[Fault]:
    faults = []
    for index, stock in enumerate(problem.stock):
        message = _wrong_with_stock(problem, stock)
        if message:
            faults.append(Fault("stock", index, f"{stock.label or f'Stock {index + 1}'}: {message}"))
    return faults


def _wrong_with_stock(problem: BarProblem, stock: BarStock) -> str:
    length, kerf = in_mm(stock.length_mm10), in_mm(problem.kerf_mm10)
    wrong = [
        (stock.length_mm10 <= 0, "no length"),
        (stock.length_mm10 > MOST_LENGTH_MM10, f"longer than a plan takes ({in_mm(MOST_LENGTH_MM10)})"),
        (stock.cost < 0 or stock.keep_value < 0, "a price or a value is below nothing"),
        (stock.quantity is not None and stock.quantity < 0, "the quantity is below nothing"),
        (stock.trim_mm10 is not None and stock.trim_mm10 < 0, "the end trim is below nothing"),
        (problem.kerf_mm10 >= stock.length_mm10, f"the kerf of {kerf} is wider than the bar of {length}"),
        (problem.usable_mm10(stock) <= 0, f"{length} is nothing but end trim"),
    ]
    return next((message for is_wrong, message in wrong if is_wrong), "")


def _part_faults(problem: BarProblem) -> list[Fault]:
    faults = []
    for index, part in enumerate(problem.parts):
        name = part.label or f"Part {index + 1}"
        if part.length_mm10 <= 0:
            faults.append(Fault("parts", index, f"{name}: no length"))
        if part.quantity <= 0:
            faults.append(Fault("parts", index, f"{name}: asks for {part.quantity} pieces"))
    return faults


def _fit_faults(problem: BarProblem) -> list[Fault]:
    """Parts longer than all there is to cut them from, with the length that would do."""
    rooms = [problem.usable_mm10(stock) for stock in problem.stock if stock.quantity != 0]
    if not rooms:
        return [Fault("stock", None, "There is nothing to cut from")] if problem.parts else []
    longest = max(rooms)
    return [
        Fault("parts", index, _too_long(problem, part, index, longest))
        for index, part in enumerate(problem.parts)
        if part.length_mm10 > longest
    ]


def _too_long(problem: BarProblem, part: BarPart, index: int, longest: int) -> str:
    would_do = in_mm(part.length_mm10 + 2 * problem.trim_mm10)
    return (
        f"{part.label or f'Part {index + 1}'}: {in_mm(part.length_mm10)} is longer than any stock;"
        f" at most {in_mm(longest)} can be cut, a bar of {would_do} would do"
    )
