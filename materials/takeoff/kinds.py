"""Which kinds of take-off are there, what is entered for each, and which function computes it?"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from materials.takeoff import (
    cladding,
    counted,
    finishes,
    fixings,
    framing,
    lining,
    setting_out,
    sheets,
    trim,
)
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.result import Result
from materials.takeoff.specs import Catalogue


@dataclass(frozen=True)
class Kind:
    """One kind of take-off: its key in the data, its name, what is entered and what computes it."""

    key: str
    name: str
    inputs: type[Any]
    compute: Callable[[Any, Catalogue], Result]
    has_outline: bool = False


SIMPLE_KINDS: Mapping[str, Kind] = {
    kind.key: kind
    for kind in (
        Kind("cladding", "Cladding", cladding.Cladding, cladding.take_off, has_outline=True),
        Kind("lining", "Sheet lining", lining.Lining, lining.take_off, has_outline=True),
        Kind("sheet_parts", "Sheet parts", sheets.SheetParts, sheets.take_off),
        Kind("framing", "Framing", framing.Framing, framing.take_off, has_outline=True),
        Kind("trim_run", "Trim run", trim.Trim, trim.take_off),
        Kind("fixings", "Fixings", fixings.Fixings, fixings.take_off),
        Kind("finish", "Finish", finishes.Finish, finishes.take_off),
        Kind("beads", "Adhesive or filler", finishes.Beads, finishes.take_off_beads),
        Kind("pieces", "Pieces", counted.Pieces, counted.take_off),
        Kind("setting_out", "Setting out", setting_out.SettingOut, setting_out.take_off),
        Kind("manual", "By hand", counted.Manual, counted.take_by_hand),
    )
}


def simple_kind(key: str) -> Kind:
    """The kind of that key; raises `MeasureAgain` where there is none."""
    if key not in SIMPLE_KINDS:
        raise MeasureAgain("That kind of take-off is not known here.", "kind")
    return SIMPLE_KINDS[key]
