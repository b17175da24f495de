"""What stands in a line drawing, in real tenths of a millimetre, across and up from a corner?"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Spot = tuple[int, int]


class Stroke(StrEnum):
    """What a line on the drawing is; the style sheet says how it looks."""

    OUTLINE = "outline"
    BOARD = "board"
    RIPPED = "ripped"
    OPENING = "opening"
    BATTEN = "batten"
    JOINT = "joint"
    GROOVE = "groove"
    CENTRE = "centre"
    MEMBER = "member"


@dataclass(frozen=True)
class Path:
    """A line through spots; closed where it comes back to the first."""

    spots: tuple[Spot, ...]
    stroke: Stroke
    closed: bool = True


@dataclass(frozen=True)
class Label:
    """A word at a spot, centred on it."""

    at: Spot
    text: str


@dataclass(frozen=True)
class Dimension:
    """A measured distance along one axis between two spots, drawn on row `row` outside the drawing.

    `across` is true for a dimension below the drawing, false for one to the left of it.
    """

    start_mm10: int
    end_mm10: int
    text: str
    across: bool = True
    row: int = 0


@dataclass(frozen=True)
class Drawing:
    """A drawing to scale: its size, its lines, its words and its dimensions."""

    width_mm10: int
    height_mm10: int
    paths: tuple[Path, ...] = ()
    labels: tuple[Label, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    title: str = ""
