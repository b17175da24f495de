"""The door to take-off: a kind, what was entered and a catalogue in; the result out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from materials.takeoff.codec import from_json, to_json
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.kinds import SIMPLE_KINDS, Kind
from materials.takeoff.result import Result
from materials.takeoff.specs import Catalogue
from materials.takeoff.ways import WAYS_KIND

KINDS: Mapping[str, Kind] = {**SIMPLE_KINDS, WAYS_KIND.key: WAYS_KIND}


def kind_of(key: str) -> Kind:
    """The kind of that key; raises `MeasureAgain` where there is none."""
    if key not in KINDS:
        raise MeasureAgain("That kind of take-off is not known here.", "kind")
    return KINDS[key]


def compute(key: str, entered: Mapping[str, Any], catalogue: Catalogue) -> Result:
    """Compute one item from what was stored of its inputs; raises `MeasureAgain` where it can't be built."""
    kind = kind_of(key)
    return kind.compute(from_json(entered, kind.inputs), catalogue)


def result_to_json(result: Result) -> dict[str, Any]:
    """A result as it is stored beside its inputs."""
    return to_json(result)


def result_from_json(stored: Mapping[str, Any]) -> Result:
    """A stored result again."""
    return from_json(stored, Result)


def material_keys(entered: Any) -> set[str]:
    """Every material key found anywhere in stored inputs, so that a page can fetch them all at once."""
    if isinstance(entered, Mapping):
        own = {str(entered["material_key"])} if entered.get("material_key") else set()
        return own.union(*(material_keys(value) for value in entered.values()))
    if isinstance(entered, list | tuple):
        return set().union(*(material_keys(value) for value in entered))
    return set()
