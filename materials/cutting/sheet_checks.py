"""Can these sheets be cut at all? What a maker is told when they can't."""

from __future__ import annotations

from collections.abc import Iterator

from materials.cutting.faults import CannotCut, Fault, in_mm
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock

MOST_PIECES = 20_000
MOST_SIDE_MM10 = 1_000_000  # a hundred metres


def check_sheet_problem(problem: SheetProblem) -> None:
    """Raise CannotCut with all that is wrong: sizes that make no sense first, then parts that fit nothing."""
    faults = [*_general_faults(problem), *_stock_faults(problem), *_part_faults(problem)]
    if not faults:
        faults = list(_fit_faults(problem))
    if faults:
        raise CannotCut(tuple(faults))


def _general_faults(problem: SheetProblem) -> Iterator[Fault]:
    if problem.kerf_mm10 < 0:
        yield Fault("kerf", None, "The kerf is below nothing")
    if min(problem.least_offcut_short_mm10, problem.least_offcut_long_mm10) < 0:
        yield Fault("least_offcut", None, "The least offcut worth keeping is below nothing")
    if problem.pieces() > MOST_PIECES:
        yield Fault("parts", None, f"{problem.pieces()} pieces are more than one plan takes ({MOST_PIECES})")
    if problem.parts and not any(stock.quantity != 0 for stock in problem.stock):
        yield Fault("stock", None, "There is nothing to cut from")


def _stock_faults(problem: SheetProblem) -> Iterator[Fault]:
    for index, stock in enumerate(problem.stock):
        message = _wrong_with_stock(problem, stock)
        if message:
            yield Fault("stock", index, f"{stock.label or f'Sheet {index + 1}'}: {message}")


def _wrong_with_stock(problem: SheetProblem, stock: SheetStock) -> str:
    usable = min(stock.usable_width_mm10, stock.usable_height_mm10)
    trim = stock.trim
    rules = (
        (
            not (0 < stock.width_mm10 <= MOST_SIDE_MM10 and 0 < stock.height_mm10 <= MOST_SIDE_MM10),
            f"width and height must be over nothing and at most {in_mm(MOST_SIDE_MM10)}",
        ),
        (stock.cost < 0 or stock.keep_value < 0, "a price or a value may not be below nothing"),
        ((stock.quantity or 0) < 0, "the quantity may not be below nothing"),
        (
            min(trim.left_mm10, trim.right_mm10, trim.bottom_mm10, trim.top_mm10) < 0,
            "the trim is below nothing",
        ),
        (usable <= 0, f"{_size(stock.width_mm10, stock.height_mm10)} is nothing but trim"),
        (
            problem.kerf_mm10 >= usable,
            f"the kerf of {in_mm(problem.kerf_mm10)} is as wide as what the trim leaves, {in_mm(usable)}",
        ),
    )
    return next((message for broken, message in rules if broken), "")


def _part_faults(problem: SheetProblem) -> Iterator[Fault]:
    for index, part in enumerate(problem.parts):
        name = part.label or f"Part {index + 1}"
        if not (0 < part.width_mm10 <= MOST_SIDE_MM10 and 0 < part.height_mm10 <= MOST_SIDE_MM10):
            size = in_mm(MOST_SIDE_MM10)
            yield Fault("parts", index, f"{name}: width and height must be over nothing and at most {size}")
        if part.quantity < 1:
            message = f"{name}: asks for {part.quantity} pieces, at least 1 is needed"
            yield Fault("parts", index, message)


def _fit_faults(problem: SheetProblem) -> Iterator[Fault]:
    """Parts larger than all there is to cut them from, with the sizes that would do."""
    stock = [each for each in problem.stock if each.quantity != 0]
    for index, part in enumerate(problem.parts):
        if not any(goes_into(part, each) for each in stock):
            name = part.label or f"Part {index + 1}"
            grain = "" if part.may_turn else " with its grain along the sheet"
            message = (
                f"{name}: {_size(part.width_mm10, part.height_mm10)} goes into no sheet{grain};"
                f" at most {_largest_sizes(stock)} can be cut"
            )
            yield Fault("parts", index, message)


def goes_into(part: SheetPart, stock: SheetStock) -> bool:
    """Does one such part go into one such sheet, by itself?"""
    room = (stock.usable_width_mm10, stock.usable_height_mm10)
    straight = part.width_mm10 <= room[0] and part.height_mm10 <= room[1]
    turned = part.may_turn and part.height_mm10 <= room[0] and part.width_mm10 <= room[1]
    return straight or turned


def _largest_sizes(stock: list[SheetStock]) -> str:
    """The usable sizes that no other usable size contains."""
    sizes = {(each.usable_width_mm10, each.usable_height_mm10) for each in stock}
    outer = [a for a in sizes if not any(a != b and a[0] <= b[0] and a[1] <= b[1] for b in sizes)]
    return " or ".join(_size(*size) for size in sorted(outer, reverse=True))


def _size(width_mm10: int, height_mm10: int) -> str:
    return f"{in_mm(width_mm10).removesuffix(' mm')} × {in_mm(height_mm10)}"
