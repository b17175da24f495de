"""What does a take-off give: pieces, quantities, work, mass, and the working behind them?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from materials.takeoff.drawing import Drawing


class Grain(StrEnum):
    """Which way the grain of a piece must run."""

    ALONG_LENGTH = "along_length"
    ALONG_WIDTH = "along_width"
    ANY = "any"


class Unit(StrEnum):
    """What a quantity or a piece of work is counted in."""

    EACH = "each"
    METRE = "m"
    SQUARE_METRE = "m²"
    LITRE = "litre"


class Operation(StrEnum):
    """Work that a quantity stands for; the workshop keeps its own hours for one unit of each."""

    CLAD = "clad"
    LINE_SHEET = "line_sheet"
    FRAME = "frame"
    TRIM = "trim"
    SCRIBE = "scribe"
    CUT_OUT = "cut_out"
    MITRE = "mitre"
    END_JOINT = "end_joint"
    MAKE_PART = "make_part"
    FIX = "fix"
    COAT = "coat"
    FIT_PIECE = "fit_piece"


@dataclass(frozen=True)
class Step:
    """One line of working: what it is in words, the sum in figures, the rule by name."""

    words: str
    figures: str = ""
    rule: str = ""


@dataclass(frozen=True)
class Piece:
    """Pieces to cut, all alike: `width_mm10` 0 means the full width of the board or length.

    Pieces of one `family` run on across their joints, and so are cut from one strip in the order given.
    """

    material_key: str
    length_mm10: int
    width_mm10: int = 0
    quantity: int = 1
    grain: Grain = Grain.ANY
    label: str = ""
    family: str = ""


@dataclass(frozen=True)
class Quantity:
    """An amount to buy that is not cut: how much is needed, and the whole packs that hold it."""

    material_key: str
    amount: Decimal
    unit: Unit
    packs: int = 0
    pack_size: Decimal = Decimal(1)
    label: str = ""


@dataclass(frozen=True)
class Work:
    """How much of one operation the item holds, for the hours."""

    operation: Operation
    amount: Decimal
    unit: Unit


@dataclass(frozen=True)
class Mark:
    """A line to set out: what it is, how far from the one datum, and how far from the line before."""

    name: str
    running_mm10: int
    between_mm10: int


def marks_at(named: Iterable[tuple[str, int]]) -> tuple[Mark, ...]:
    """Marks from their distances to the datum, in order.

    >>> [mark.between_mm10 for mark in marks_at([("1", 500), ("2", 1_200)])]
    [500, 700]
    """
    found: list[Mark] = []
    before = 0
    for name, running in named:
        found.append(Mark(name, running, running - before))
        before = running
    return tuple(found)


@dataclass(frozen=True)
class Result:
    """Everything computed from one item's inputs, and the rule (with its version) that did it.

    `centre_mm10` is the middle of mass across and up from the item's own corner, where it has one. `marks`
    are lines to set out, all measured from the one `datum`.
    """

    rule: str
    headline: str
    steps: tuple[Step, ...] = ()
    pieces: tuple[Piece, ...] = ()
    quantities: tuple[Quantity, ...] = ()
    work: tuple[Work, ...] = ()
    mass_kg: Decimal | None = None
    cautions: tuple[str, ...] = ()
    drawing: Drawing | None = None
    area_m2: Decimal | None = None
    centre_mm10: tuple[int, int] | None = None
    marks: tuple[Mark, ...] = ()
    datum: str = ""
