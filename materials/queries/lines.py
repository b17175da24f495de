"""Which items of a job have lines that fittings can be moved to, and where are they?"""

from __future__ import annotations

from collections.abc import Iterable

from materials.models import TakeoffItem
from materials.takeoff.result import Mark
from materials.takeoff.setting_out import lines_of

LINED = {"cladding": "centre lines of the courses", "framing": "middles of the members"}


def lined_items(job_id: int) -> list[tuple[str, str]]:
    """The items of a job to choose from, by key, in one query."""
    items = TakeoffItem.objects.filter(phase__job=job_id).defer("inputs", "result")
    lined = [(item, LINED.get(_made_as(item))) for item in items]
    return [(str(item.pk), f"{item.title}: {lines}") for item, lines in lined if lines]


def _made_as(item: TakeoffItem) -> str:
    """The kind whose rule computed it: of several ways, that of the way taken."""
    return item.rule_version.rpartition(" ")[0]


def lines_name(item: TakeoffItem) -> str:
    """What its lines are called in the working."""
    datum = str(item.result.get("datum") or "its edge")
    return f"{LINED.get(_made_as(item), 'lines')} of {item.title}, from {datum}"


def lines_of_item(item: TakeoffItem) -> tuple[int, ...]:
    """Where its lines are, from its own edge."""
    return lines_of(_made_as(item), tuple(_marks(item.result.get("marks", ()))))


def _marks(kept: Iterable[dict[str, object]]) -> Iterable[Mark]:
    for mark in kept:
        yield Mark(str(mark["name"]), int(str(mark["running_mm10"])), int(str(mark["between_mm10"])))
