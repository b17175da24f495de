"""What kind of thing is a row that does not say? A guess by the words of the trade, its unit, its size."""

from __future__ import annotations

import re
from collections.abc import Iterable

from materials.pricelist.contents import litres_in, number_in
from materials.pricelist.line import Line

_WORDS = {
    "fixing": "screw nail pin bolt staple washer rivet tack brad coachbolt",
    "piece": "hinge handle runner knob catch latch lock bracket castor hook bolster stay grille vent",
    "liquid": "paint oil varnish wax primer undercoat eggshell emulsion gloss lacquer stain preservative "
    "glue adhesive sealant thinner spirit",
    "sheet": "plywood ply mdf osb chipboard hardboard blockboard fibreboard sheet panel laminate",
    "length": "batten architrave skirting moulding molding trim edging bead beading lipping quadrant dowel "
    "cls stud joist rail lath scotia",
    "board": "board tongue groove t&g cladding matchboard matching shiplap floorboard plank weatherboard par "
    "featheredge lining sawn",
}
"""Looked for in this order: panel pins are fixings, a skirting board is a length."""

_UNITS = {
    "sheet": "sheet sheets sht panel",
    "board": "board boards",
    "liquid": "l lt ltr litre litres liter ml tin can tub bottle",
    "fixing": "box boxes 100 1000 hundred thousand bag packet",
    "length": "m lm metre metres length lengths lgth",
    "piece": "pair pairs pr set sets",
}
_BY_WORD = [(kind, frozenset(words.split())) for kind, words in _WORDS.items()]
_BY_UNIT = {word: kind for kind, words in _UNITS.items() for word in words.split()}
_SHEET_SIZE = re.compile(r"\b(\d{3,4})\s*(?:mm)?\s*[x×]\s*(\d{3,4})\b")
_LEAST_OF_A_SHEET_MM = 600
_LEAST_OF_A_BOARD_MM10 = 700


def guess_kind(line: Line) -> str:
    """The kind that a row's name speaks of, else its unit, else its measures; empty where none tells.

    A guess only: whoever brings the list in confirms it.
    """
    return _by_name(line.name) or _BY_UNIT.get(line.unit.casefold(), "") or _by_measures(line)


def _by_name(name: str) -> str:
    words = {form for word in re.findall(r"[a-z&]+", name.casefold()) for form in _forms(word)}
    named = next((kind for kind, known in _BY_WORD if words & known), "")
    if named:
        return named
    if litres_in(name):
        return "liquid"
    return "fixing" if number_in(name) else ""


def _forms(word: str) -> Iterable[str]:
    """The word and, where it may be a plural, its singular."""
    return (word, word.removesuffix("s"), word.removesuffix("es"))


def _by_measures(line: Line) -> str:
    details = dict(line.details)
    sides = _SHEET_SIZE.search(line.name.casefold())
    is_sheet = line.width_mm10 or (sides and min(int(sides[1]), int(sides[2])) >= _LEAST_OF_A_SHEET_MM)
    if is_sheet:
        return "sheet"
    if "cover_width_mm10" in details or "tongue_mm10" in details:
        return "board"
    if not line.length_mm10:
        return ""
    return "board" if details.get("width_mm10", 0) >= _LEAST_OF_A_BOARD_MM10 else "length"
