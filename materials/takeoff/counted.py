"""What is simply counted: hinges, lamps, handles; and what is put in by hand, with the reason?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted, metres, plain
from materials.takeoff.mass import added, board_mass, counted_mass, sheet_mass
from materials.takeoff.packs import pack_step, quantities
from materials.takeoff.result import Operation, Quantity, Result, Step, Unit, Work
from materials.takeoff.specs import Catalogue, MaterialSpec

PIECES_RULE = "pieces 2"
MANUAL_RULE = "by hand 2"
CUT = ("board", "length", "sheet")
UNITS_OF = {
    "board": (Unit.EACH, Unit.METRE, Unit.SQUARE_METRE),
    "length": (Unit.EACH, Unit.METRE),
    "sheet": (Unit.EACH, Unit.SQUARE_METRE),
    "liquid": (Unit.EACH, Unit.LITRE),
}
"""What each kind is bought by; other kinds by the unit that the catalogue has for them."""


@dataclass(frozen=True)
class PieceLine:
    """So many of one thing from the catalogue."""

    material_key: str
    quantity: int
    note: str = ""


@dataclass(frozen=True)
class Pieces:
    """Things counted, not cut."""

    lines: tuple[PieceLine, ...]


def take_off(inputs: Pieces, catalogue: Catalogue) -> Result:
    """The counts, in whole packs where they are sold so."""
    if not inputs.lines:
        raise MeasureAgain("Choose at least one thing and count it.", "lines")
    rows = [(line, catalogue.spec(line.material_key, "lines")) for line in inputs.lines]
    for line, spec in rows:
        if line.quantity <= 0:
            raise MeasureAgain(f"{spec.name}: how many? It must be one or more.", "lines")
    total = sum(line.quantity for line in inputs.lines)
    return Result(
        rule=PIECES_RULE,
        headline=counted(total, "piece"),
        steps=tuple(step for line, spec in rows for step in _piece_steps(line, spec)),
        quantities=tuple(
            each for line, spec in rows for each in quantities(spec, Decimal(line.quantity), Unit.EACH)
        ),
        work=(Work(Operation.FIT_PIECE, Decimal(total), Unit.EACH),),
        mass_kg=added(_whole_mass(Decimal(line.quantity), spec) for line, spec in rows),
    )


def _piece_steps(line: PieceLine, spec: MaterialSpec) -> tuple[Step, ...]:
    name = f"{spec.name} ({line.note})" if line.note else spec.name
    step = Step(name, str(line.quantity), "counted")
    packs = quantities(spec, Decimal(line.quantity), Unit.EACH)
    sold_singly = all(quantity.pack_size == 1 for quantity in packs)
    return (step,) if sold_singly else (step, pack_step(Decimal(line.quantity), packs, "pack"))


@dataclass(frozen=True)
class ManualLine:
    """An amount of one material in the unit it is bought by."""

    material_key: str
    amount: Decimal
    unit: Unit = Unit.EACH


@dataclass(frozen=True)
class Manual:
    """Amounts put in by hand over, or besides, what is computed; the reason is kept with them.

    `mass_kg` is added to what the catalogue knows of the lines.
    """

    reason: str
    lines: tuple[ManualLine, ...] = ()
    mass_kg: Decimal = Decimal(0)


def take_by_hand(inputs: Manual, catalogue: Catalogue) -> Result:
    """What was put in by hand, as it was put in; raises `MeasureAgain` without a reason."""
    if not inputs.reason.strip():
        raise MeasureAgain("Say why this is put in by hand, so that the next reader knows.", "reason")
    rows = [(line, catalogue.spec(line.material_key, "lines")) for line in inputs.lines]
    for line, spec in rows:
        _check(line, spec)
    steps = [Step(spec.name, f"{plain(line.amount)} {line.unit}", "by hand") for line, spec in rows]
    mass_kg = added([*(_mass(line, spec) for line, spec in rows), inputs.mass_kg or None])
    return Result(
        rule=MANUAL_RULE,
        headline=f"by hand: {inputs.reason.strip()}",
        steps=(Step(f"Put in by hand: {inputs.reason.strip()}"), *steps),
        quantities=tuple(each for line, spec in rows for each in _bought(line, spec)),
        mass_kg=mass_kg,
        cautions=("Put in by hand: nothing here is computed from a measurement.",),
    )


def _check(line: ManualLine, spec: MaterialSpec) -> None:
    """Raise `MeasureAgain` for nothing, and for a unit that says nothing of how many to buy."""
    if line.amount <= 0:
        raise MeasureAgain("Each amount must be more than nothing.", "lines")
    units = UNITS_OF.get(spec.kind, tuple(Unit))
    if line.unit not in units:
        others = " or ".join(units)
        raise MeasureAgain(f"{spec.name} is not bought by the {line.unit}: put it in by {others}.", "lines")


def _bought(line: ManualLine, spec: MaterialSpec) -> tuple[Quantity, ...]:
    """Metres, square metres and tins are bought as they come; what is counted or poured, in packs."""
    if line.unit in (Unit.METRE, Unit.SQUARE_METRE) or _is_of_tins(line, spec):
        return (Quantity(spec.key, line.amount, line.unit, label=spec.name),)
    return quantities(spec, line.amount, line.unit)


def _is_of_tins(line: ManualLine, spec: MaterialSpec) -> bool:
    """Of what is poured, one is a whole tin, of whichever size."""
    return spec.kind == "liquid" and line.unit is Unit.EACH


def _whole_mass(number: Decimal, spec: MaterialSpec) -> Decimal | None:
    """Mass of so many pieces; of whole boards, lengths or sheets only where they come in one size."""
    if spec.kind not in CUT:
        return counted_mass(number, spec)
    sizes = {(size.length_mm10, size.width_mm10) for size in spec.stock}
    if len(sizes) != 1:
        return None
    length, width = (metres(side) for side in sizes.pop())
    is_sheet = spec.kind == "sheet"
    return sheet_mass(number * length * width, spec) if is_sheet else board_mass(number * length, spec)


def _mass(line: ManualLine, spec: MaterialSpec) -> Decimal | None:
    if _is_of_tins(line, spec):
        return None
    if line.unit is Unit.EACH:
        return _whole_mass(line.amount, spec)
    if line.unit is Unit.METRE:
        return board_mass(line.amount, spec)
    if line.unit is Unit.SQUARE_METRE:
        return sheet_mass(line.amount, spec)
    return counted_mass(line.amount, spec)
