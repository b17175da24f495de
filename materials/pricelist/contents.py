"""How much does a box or a tin hold, where a list counts boxes and the catalogue screws and litres?"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

from jobs.money import round_half_up
from materials.pricelist.line import Line

PACK_WORDS = frozenset(
    {"bag", "bottle", "box", "bucket", "can", "canister", "carton", "case", "drum", "jar", "pack", "packet"}
    | {"pail", "pot", "tin", "tub", "tube"}
)
_MAY_BE_A_TIN = PACK_WORDS | {"", "each", "ea", "pc", "piece"}
_COUNTED = frozenset({"fixing", "piece"})
_OF_ONE = ("coverage_m2", "mass_per_unit_kg")
_LITRES = re.compile(r"(?<![\d.,])(\d+(?:[.,]\d+)?)\s*(ml|cl|l|lt|ltr|litres?|liters?)\b", re.IGNORECASE)
_PARTS_OF_A_LITRE = {"ml": 1000, "cl": 100}
_PACK = "|".join(sorted(PACK_WORDS))
_NUMBER = re.compile(rf"\b(?:{_PACK}) of (\d+)\b|\b(\d+) (?:in a|per|a) (?:{_PACK})\b", re.IGNORECASE)
PLACES = 4


class UnsaidError(ValueError):
    """What a pack holds is not said; the message asks for it in plain words."""


def litres_in(text: str) -> Decimal | None:
    """The litres that a name or a size speaks of; None where it speaks of none, or of several.

    >>> litres_in("Eggshell, 2.5 litre tin"), litres_in("750ml"), litres_in("Screws 4.0 × 35 mm")
    (Decimal('2.5'), Decimal('0.75'), None)
    """
    found = {
        Decimal(number.replace(",", ".")) / _PARTS_OF_A_LITRE.get(unit.casefold(), 1)
        for number, unit in _LITRES.findall(text)
    }
    said = found.pop() if len(found) == 1 else None
    return said or None


def number_in(text: str) -> Decimal | None:
    """How many a name says are in a box; None where it does not.

    >>> number_in("Screws 4.0 × 35 mm, box of 200"), number_in("Pins, 500 per box"), number_in("Box hinge")
    (Decimal('200'), Decimal('500'), None)
    """
    found = _NUMBER.search(text)
    return Decimal(found[1] or found[2]) or None if found else None


def filled(line: Line, kind: str) -> Line:
    """The line with its pack in the catalogue's terms: so many screws in a box, so many litres in a tin.

    A unit that is a pack's name is no unit, and what is said of one such pack is said of what it holds: a tin
    of 2.5 litres that covers 30 m² covers 12 m² a litre. Raises `UnsaidError` where the pack must be told.
    """
    unit = line.unit.casefold()
    holds = _litres(line, unit) if kind == "liquid" else _count(line, unit) if kind in _COUNTED else None
    holds = holds or line.pack_quantity
    if unit not in PACK_WORDS or kind not in {"liquid", *_COUNTED}:
        return replace(line, pack_quantity=holds)
    details = {name: value for name, value in line.details if name != "unit"}
    of_one: dict[str, Any] = {
        name: round_half_up(details[name] / holds, PLACES)
        for name in _OF_ONE
        if name in details and not (name == "coverage_m2" and line.covers_by_litre)
    }
    return replace(line, pack_quantity=holds, details=tuple((details | of_one).items()))


def _litres(line: Line, unit: str) -> Decimal:
    pack = line.pack_quantity if line.pack_said else None
    if unit not in _MAY_BE_A_TIN:
        return pack or line.litres or Decimal(1)
    if pack is not None and pack != 1:
        if line.litres not in (None, pack):
            raise UnsaidError(
                f"The pack says {pack:f} litres and the name {line.litres:f}: which is in a tin?"
            )
        return pack
    if line.litres is None and not (pack and not unit):
        raise UnsaidError(
            "How many litres does a tin hold? Write it under the pack, or in the name: 2.5 litre."
        )
    return line.litres or Decimal(1)


def _count(line: Line, unit: str) -> Decimal | None:
    if unit not in PACK_WORDS or (line.pack_said and line.pack_quantity != 1):
        return None
    number = number_in(line.name)
    if number is None:
        raise UnsaidError(
            f"How many are in a {unit}? Write it under the pack, or in the name: {unit} of 200."
        )
    return number
