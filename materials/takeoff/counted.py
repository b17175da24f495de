"""What is simply counted: hinges, lamps, handles; and what is put in by hand, with the reason?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted, plain
from materials.takeoff.mass import added, board_mass, counted_mass, sheet_mass
from materials.takeoff.packs import pack_step, quantities
from materials.takeoff.result import Operation, Quantity, Result, Step, Unit, Work
from materials.takeoff.specs import Catalogue, MaterialSpec

PIECES_RULE = "pieces 2"
MANUAL_RULE = "by hand 2"


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
        mass_kg=added(counted_mass(Decimal(line.quantity), spec) for line, spec in rows),
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
    if any(line.amount <= 0 for line, _ in rows):
        raise MeasureAgain("Each amount must be more than nothing.", "lines")
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


def _bought(line: ManualLine, spec: MaterialSpec) -> tuple[Quantity, ...]:
    """Metres and square metres are bought as they come; what is counted or poured, in packs."""
    if line.unit in (Unit.METRE, Unit.SQUARE_METRE):
        return (Quantity(spec.key, line.amount, line.unit, label=spec.name),)
    return quantities(spec, line.amount, line.unit)


def _mass(line: ManualLine, spec: MaterialSpec) -> Decimal | None:
    if line.unit is Unit.METRE:
        return board_mass(line.amount, spec)
    if line.unit is Unit.SQUARE_METRE:
        return sheet_mass(line.amount, spec)
    return counted_mass(line.amount, spec)
