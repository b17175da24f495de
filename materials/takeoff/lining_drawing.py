"""How is a lining drawn: its panels, its joints, and the lines that joints fall on?"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from materials.takeoff import plane
from materials.takeoff.drawing import Dimension, Drawing, Label, Path, Stroke
from materials.takeoff.figures import counted
from materials.takeoff.outline import Measured, outline_paths, size_dimensions
from materials.takeoff.specs import Catalogue


def lines_over(
    measured: Measured, stroke: Stroke, across: tuple[int, ...], up: tuple[int, ...]
) -> list[Path]:
    """Lines upright at places across and level at places up, as far as they lie on what is covered."""
    found = [
        Path(((place, low), (place, high)), stroke, closed=False)
        for place in across
        for low, high in plane.spans(measured.net, place)
    ]
    turned = plane.turned(measured.net) if up else None
    return found + [
        Path(((low, place), (high, place)), stroke, closed=False)
        for place in up
        for low, high in plane.spans(turned, place)
    ]


def draw(
    measured: Measured,
    panels: Sequence[plane.Region],
    lines: list[Path],
    joints: tuple[tuple[int, ...], tuple[int, ...]],
    catalogue: Catalogue,
) -> Drawing:
    """The panels in their places, numbered, with the lines joints could fall on and the joints' places."""
    across, up = joints
    paths = [Path(ring, Stroke.BOARD) for panel in panels for ring in plane.rings(panel)] + lines
    labels = [Label(plane.centre(panel), str(number)) for number, panel in enumerate(panels, start=1)]
    columns = [0, *across, measured.box.right]
    rows = [0, *up, measured.box.top]
    between = [
        *(Dimension(a, b, catalogue.figure(b - a)) for a, b in itertools.pairwise(columns) if across),
        *(Dimension(a, b, catalogue.figure(b - a), across=False) for a, b in itertools.pairwise(rows) if up),
    ]
    return Drawing(
        width_mm10=measured.box.right,
        height_mm10=measured.box.top,
        paths=(*paths, *outline_paths(measured)),
        labels=tuple(labels),
        dimensions=(*between, *size_dimensions(measured, catalogue, row=1 if between else 0)),
        title=f"{counted(len(panels), 'panel')}",
    )
