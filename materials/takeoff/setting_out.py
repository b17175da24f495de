"""Where does each of n fittings go along a run, so that the gaps are equal?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from materials.takeoff.drawing import Dimension, Drawing, Label, Path, Stroke
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted
from materials.takeoff.result import Mark, Result, Step
from materials.takeoff.specs import Catalogue

RULE = "setting out 3"
MOST = 500


class Spacing(StrEnum):
    """Equal gaps all along, ends included; or equal centres with half a gap at each end."""

    EQUAL_GAPS = "equal_gaps"
    HALF_ENDS = "half_ends"


@dataclass(frozen=True)
class SettingOut:
    """Fittings of one width along a run, by their middles from one datum.

    With a `snap_pitch_mm10` each middle moves to the nearest line (a batten, the centre of a course), the
    first line being `snap_first_mm10` from the datum. Or the lines are those of another item, `snap_item`:
    then `lines_mm10` are where that has them, `lines_name` says what they are, and the run starts
    `snap_start_mm10` from that item's own edge.
    """

    name: str
    run_mm10: int
    count: int
    size_mm10: int = 0
    spacing: Spacing = Spacing.EQUAL_GAPS
    snap_pitch_mm10: int = 0
    snap_first_mm10: int = 0
    snap_item: int = 0
    snap_start_mm10: int = 0
    lines_mm10: tuple[int, ...] = ()
    lines_name: str = ""

    @property
    def lines_on_run_mm10(self) -> tuple[int, ...]:
        """The other item's lines that cross the run, from the datum."""
        from_datum = (line - self.snap_start_mm10 for line in self.lines_mm10)
        return tuple(line for line in from_datum if 0 <= line <= self.run_mm10)


def lines_of(kind: str, marks: Sequence[Mark]) -> tuple[int, ...]:
    """Where an item has lines to fix to: the middles of courses, or of members; none of other kinds.

    >>> lines_of("cladding", (Mark("course 1", 500, 500), Mark("course 2", 1620, 1120)))
    (250, 1060)
    """
    if kind == "cladding":
        return tuple((2 * mark.running_mm10 - mark.between_mm10) // 2 for mark in marks)
    return tuple(mark.running_mm10 for mark in marks) if kind == "framing" else ()


@dataclass(frozen=True)
class Place:
    """One fitting: its middle from the datum, from the middle before, and how far it was moved to a line."""

    number: int
    running_mm10: int
    between_mm10: int
    moved_mm10: int


def places(inputs: SettingOut) -> tuple[Place, ...]:
    """The middles from the datum, in order; raises `MeasureAgain` where they do not fit or share a line."""
    _check(inputs)
    exact = [_middle(inputs, number) for number in range(1, inputs.count + 1)]
    middles = [_snapped(inputs, middle) for middle in exact]
    if any(other <= one for one, other in pairwise(middles)):
        raise MeasureAgain(
            "Two fittings fall on the same line. Use fewer, or measure the distance between the lines again.",
            "snap_item" if inputs.snap_item else "snap_pitch",
        )
    before = [0, *middles]
    return tuple(
        Place(number, middle, middle - before[number - 1], middle - _half_up(exact[number - 1]))
        for number, middle in enumerate(middles, start=1)
    )


def _check(inputs: SettingOut) -> None:
    if inputs.run_mm10 <= 0:
        raise MeasureAgain("The run must be more than nothing. Measure it again.", "run")
    if not 1 <= inputs.count <= MOST:
        raise MeasureAgain(f"How many fittings? From 1 to {MOST}.", "count")
    if inputs.size_mm10 * inputs.count > inputs.run_mm10:
        raise MeasureAgain("The fittings together are wider than the run. Measure both again.", "size")
    if inputs.snap_item and not inputs.lines_on_run_mm10:
        raise MeasureAgain(
            "None of its lines crosses the run. Measure again how far along it the run starts.", "snap_start"
        )


def _middle(inputs: SettingOut, number: int) -> Fraction:
    run, size, count = inputs.run_mm10, inputs.size_mm10, inputs.count
    if inputs.spacing is Spacing.HALF_ENDS:
        return Fraction(run * (2 * number - 1), 2 * count)
    gap = Fraction(run - size * count, count + 1)
    return gap * number + Fraction(size * (2 * number - 1), 2)


def _half_up(exact: Fraction) -> int:
    """To the nearest whole, half of one upwards.

    >>> _half_up(Fraction(5, 2)), _half_up(Fraction(7, 2))
    (3, 4)
    """
    return int((exact * 2 + 1) // 2)


def _snapped(inputs: SettingOut, middle: Fraction) -> int:
    if inputs.snap_item:
        return min(inputs.lines_on_run_mm10, key=lambda line: (abs(line - middle), -line))
    if not inputs.snap_pitch_mm10:
        return _half_up(middle)
    step = (middle - inputs.snap_first_mm10) / inputs.snap_pitch_mm10
    lines = max(0, _half_up(step))
    line = inputs.snap_first_mm10 + lines * inputs.snap_pitch_mm10
    return line if line <= inputs.run_mm10 else line - inputs.snap_pitch_mm10


def take_off(inputs: SettingOut, catalogue: Catalogue) -> Result:
    """The setting-out as steps and a drawing; nothing is bought."""
    found = places(inputs)
    name = inputs.name or "Fittings"
    return Result(
        rule=RULE,
        headline=f"{counted(inputs.count, 'place')} along {catalogue.show(inputs.run_mm10)}",
        steps=(
            _gap_step(inputs, catalogue),
            *_lines_step(inputs, catalogue),
            *(_place_step(place, catalogue) for place in found),
        ),
        cautions=_cautions(found, catalogue),
        drawing=_drawing(inputs, found, name, catalogue),
        marks=tuple(Mark(str(place.number), place.running_mm10, place.between_mm10) for place in found),
        datum=f"the start of the run, on the {inputs.lines_name}"
        if inputs.snap_item
        else "the datum, at the left",
    )


def _gap_step(inputs: SettingOut, catalogue: Catalogue) -> Step:
    figure = catalogue.figure
    run, size, count = inputs.run_mm10, inputs.size_mm10, inputs.count
    if inputs.spacing is Spacing.HALF_ENDS:
        sums = f"{figure(run)} ÷ {count} = {figure(_half_up(Fraction(run, count)))}"
        return Step("Centres, with half a gap at each end", sums, "run ÷ number")
    gap = _half_up(Fraction(run - size * count, count + 1))
    sums = f"({figure(run)} − {count} × {figure(size)}) ÷ {count + 1} = {figure(gap)}"
    return Step("Gap between fittings and at the ends", sums, "what is left ÷ (number + 1)")


def _lines_step(inputs: SettingOut, catalogue: Catalogue) -> tuple[Step, ...]:
    if not inputs.snap_item:
        return ()
    lines = inputs.lines_on_run_mm10
    words = f"Moved to the {inputs.lines_name}"
    sums = f"{counted(len(lines), 'line')} from {catalogue.figure(lines[0])} to {catalogue.figure(lines[-1])}"
    start = f"run starts {catalogue.show(inputs.snap_start_mm10)} along it" if inputs.snap_start_mm10 else ""
    return (Step(words, sums, start or "run starts at its edge"),)


def _place_step(place: Place, catalogue: Catalogue) -> Step:
    moved = f", moved {catalogue.show(abs(place.moved_mm10))} to its line" if place.moved_mm10 else ""
    words = f"{place.number}: {catalogue.show(place.running_mm10)} from the datum{moved}"
    return Step(words, f"+ {catalogue.figure(place.between_mm10)}", "running, and between centres")


def _cautions(found: tuple[Place, ...], catalogue: Catalogue) -> tuple[str, ...]:
    most = max((abs(place.moved_mm10) for place in found), default=0)
    if not most:
        return ()
    return (f"Moved to the lines, the gaps are no longer equal: up to {catalogue.show(most)} off.",)


def _drawing(inputs: SettingOut, found: tuple[Place, ...], name: str, catalogue: Catalogue) -> Drawing:
    high = max(inputs.run_mm10 // 12, 400)
    half = max(inputs.size_mm10 // 2, 0)
    paths = [Path(((0, 0), (inputs.run_mm10, 0), (inputs.run_mm10, high), (0, high)), Stroke.OUTLINE)]
    paths += [
        Path(((line, 0), (line, high)), Stroke.BATTEN, closed=False) for line in inputs.lines_on_run_mm10
    ]
    for place in found:
        middle = place.running_mm10
        paths.append(Path(((middle, 0), (middle, high)), Stroke.CENTRE, closed=False))
        if half:
            left, right, low, top = middle - half, middle + half, high // 4, high * 3 // 4
            paths.append(Path(((left, low), (right, low), (right, top), (left, top)), Stroke.OPENING))
    marks = [0, *(place.running_mm10 for place in found), inputs.run_mm10]
    between = tuple(Dimension(a, b, catalogue.figure(b - a)) for a, b in pairwise(marks))
    overall = Dimension(0, inputs.run_mm10, catalogue.figure(inputs.run_mm10), row=1)
    labels = tuple(Label((place.running_mm10, high), str(place.number)) for place in found)
    return Drawing(inputs.run_mm10, high, tuple(paths), labels, (*between, overall), f"{name}: setting out")
