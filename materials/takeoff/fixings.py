"""How many screws, nails or clips, and how many packs of them?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.figures import counted, plain
from materials.takeoff.framing import edge_count
from materials.takeoff.mass import counted_mass
from materials.takeoff.packs import pack_count, pack_step, quantities
from materials.takeoff.result import Operation, Result, Step, Unit, Work
from materials.takeoff.specs import Catalogue

RULE = "fixings 2"


@dataclass(frozen=True)
class Crossing:
    """Boards that cross battens, with so many fixings where they do."""

    name: str
    boards: int
    battens: int
    each: int = 1


@dataclass(frozen=True)
class EdgeRow:
    """Rows of fixings at centres along an edge, one at each end."""

    name: str
    length_mm10: int
    centres_mm10: int
    rows: int = 1


@dataclass(frozen=True)
class Fixings:
    """Fixings of one sort; `spare_pct` is added to the net number, `fixed_mm10` is what they go through."""

    material_key: str
    crossings: tuple[Crossing, ...] = ()
    edges: tuple[EdgeRow, ...] = ()
    spare_pct: Decimal = Decimal(0)
    fixed_mm10: int = 0


def take_off(inputs: Fixings, catalogue: Catalogue) -> Result:
    """The number of fixings and whole packs; raises `MeasureAgain` where nothing is fixed."""
    spec = catalogue.spec(inputs.material_key)
    steps = [_crossing_step(row) for row in inputs.crossings] + [
        _edge_step(row, catalogue) for row in inputs.edges
    ]
    net = sum(row.boards * row.battens * row.each for row in inputs.crossings)
    net += sum(edge_count(row.length_mm10, row.centres_mm10) * row.rows for row in inputs.edges)
    if net <= 0:
        raise MeasureAgain("Count the crossings, or measure an edge to be fixed.", "crossings")
    amount = _with_spare(net, inputs.spare_pct)
    packs = quantities(spec, amount, Unit.EACH)
    mass_kg = counted_mass(Decimal(net), spec)
    return Result(
        rule=RULE,
        headline=f"{plain(amount)} fixings, {counted(pack_count(packs), 'pack')}",
        steps=(*steps, _total_step(net, amount, inputs), pack_step(amount, packs, "pack")),
        quantities=packs,
        work=(Work(Operation.FIX, Decimal(net), Unit.EACH),),
        mass_kg=mass_kg,
        cautions=_cautions(inputs, catalogue),
    )


def _with_spare(net: int, spare_pct: Decimal) -> Decimal:
    if spare_pct < 0:
        raise MeasureAgain("The spare can't be below nothing.", "spare")
    return (net * (1 + spare_pct / 100)).to_integral_value(ROUND_CEILING)


def _crossing_step(row: Crossing) -> Step:
    if min(row.boards, row.battens, row.each) <= 0:
        name = row.name or "A crossing"
        raise MeasureAgain(f"{name}: count the boards, the battens and the fixings.", "crossings")
    total = row.boards * row.battens * row.each
    sums = f"{row.boards} × {row.battens} × {row.each} = {total}"
    return Step(f"{row.name or 'Crossings'}: boards × battens × each", sums, "crossings × fixings")


def _edge_step(row: EdgeRow, catalogue: Catalogue) -> Step:
    if row.length_mm10 <= 0 or row.centres_mm10 <= 0 or row.rows <= 0:
        raise MeasureAgain(f"{row.name or 'An edge'}: measure its length and the centres again.", "edges")
    in_row = edge_count(row.length_mm10, row.centres_mm10)
    run, centres = catalogue.figure(row.length_mm10), catalogue.figure(row.centres_mm10)
    sums = f"{run} ÷ {centres}, rounded up, + 1 = {in_row}"
    sums += f"; × {row.rows} rows = {in_row * row.rows}" if row.rows > 1 else ""
    return Step(
        f"{row.name or 'Edge'}: fixings along {catalogue.show(row.length_mm10)}", sums, "one at each end"
    )


def _total_step(net: int, amount: Decimal, inputs: Fixings) -> Step:
    spare = f"{net} + {plain(inputs.spare_pct)} % = {plain(amount)}" if inputs.spare_pct else str(net)
    return Step("Fixings in all", spare, "spare rounded up")


def _cautions(inputs: Fixings, catalogue: Catalogue) -> tuple[str, ...]:
    if not inputs.fixed_mm10:
        return ()
    least = catalogue.show(inputs.fixed_mm10 * 5 // 2)
    return (f"Screws into timber: at least {least} long, 2½ times what they go through (common practice).",)
