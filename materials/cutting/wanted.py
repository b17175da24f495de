"""Which pieces does the job still want cut, and by which mark is each known on drawing and part?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Drawing practice leaves out I and O, which are read as 1 and 0."""


@dataclass(frozen=True)
class Wanted:
    """Pieces alike for one phase. The grain runs along the length.

    `width_mm10` 0 is the full width of a board. `family` names pieces whose pattern must run on across
    their joints.
    """

    phase: str
    label: str
    length_mm10: int
    width_mm10: int = 0
    quantity: int = 1
    may_turn: bool = False
    family: str = ""
    mark: str = ""


@dataclass(frozen=True)
class Cut:
    """Pieces that have been cut already."""

    phase: str
    label: str
    length_mm10: int
    width_mm10: int
    quantity: int


def mark_of(number: int) -> str:
    """The mark of the number-th kind of part, counted from nought: A to Z without I and O, then AA.

    >>> mark_of(0), mark_of(8), mark_of(23), mark_of(24)
    ('A', 'J', 'Z', 'AA')
    """
    mark = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, len(LETTERS))
        mark = LETTERS[letter] + mark
    return mark


def gathered(pieces: Iterable[Wanted]) -> tuple[Wanted, ...]:
    """Pieces that differ in nothing but their number become one, each kind marked in order of first sight."""
    totals: dict[Wanted, int] = {}
    for piece in pieces:
        kind = replace(piece, quantity=1, mark="")
        totals[kind] = totals.get(kind, 0) + piece.quantity
    return tuple(
        replace(kind, quantity=total, mark=mark_of(number))
        for number, (kind, total) in enumerate(totals.items())
    )


def still_wanted(wanted: Sequence[Wanted], cut: Iterable[Cut]) -> tuple[tuple[Wanted, ...], tuple[Cut, ...]]:
    """What remains to be cut, and which cut pieces nobody wants any more.

    A cut piece serves its own label first, then its own phase, then any phase that wants that size.
    """
    left = [piece.quantity for piece in wanted]
    over: Counter[Cut] = Counter()
    for piece in cut:
        over[replace(piece, quantity=1)] += piece.quantity
    for sees in (_same_part, _same_phase, _same_size):
        _serve(wanted, left, over, sees)
    rest = tuple(replace(w, quantity=n) for w, n in zip(wanted, left, strict=True) if n)
    return rest, tuple(replace(piece, quantity=n) for piece, n in over.items() if n)


def _serve(
    wanted: Sequence[Wanted], left: list[int], over: Counter[Cut], sees: Callable[[Wanted, Cut], bool]
) -> None:
    for piece in over:
        for at, asked in enumerate(wanted):
            served = min(over[piece], left[at]) if sees(asked, piece) else 0
            left[at] -= served
            over[piece] -= served


def _same_size(asked: Wanted, piece: Cut) -> bool:
    return (asked.length_mm10, asked.width_mm10) == (piece.length_mm10, piece.width_mm10)


def _same_phase(asked: Wanted, piece: Cut) -> bool:
    return _same_size(asked, piece) and asked.phase == piece.phase


def _same_part(asked: Wanted, piece: Cut) -> bool:
    return _same_phase(asked, piece) and asked.label == piece.label
