"""Take things off for a phase: add, change, remove, put back, turn to the other hand, compute again."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from jobs.history import record
from jobs.models import Person, Phase
from jobs.refusals import RefusedError
from jobs.versions import StaleError
from materials.models import TakeoffItem
from materials.queries.lines import lines_name, lines_of_item
from materials.queries.specs import catalogue_of
from materials.takeoff import registry
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.result import Result

SENT_TWICE_WITHIN = timedelta(seconds=10)
COMPUTED = ("result", "rule_version", "material", "computed_at")


@dataclass(frozen=True)
class Entered:
    """What was entered for an item, ready to be kept."""

    kind: str
    title: str
    inputs: dict[str, Any]


def computed(kind: str, inputs: Mapping[str, Any]) -> Result:
    """The result by today's catalogue; raises `MeasureAgain` where it can't be built."""
    ready = with_lines(inputs)
    return registry.compute(kind, ready, catalogue_of(registry.material_keys(ready)))


def with_lines(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """The inputs with the lines of the item they are snapped to, as that has them now; the rest untouched.

    Where that item is gone its lines stay as they were last known.
    """
    of_item = inputs.get("snap_item")
    item = TakeoffItem.objects.filter(pk=of_item).first() if of_item else None
    if item is None:
        return dict(inputs)
    return {**inputs, "lines_mm10": list(lines_of_item(item)), "lines_name": lines_name(item)}


@transaction.atomic
def add_item(*, phase: Phase, entered: Entered, person: Person) -> TakeoffItem:
    """The phase has one more item, computed. The same item sent twice within seconds is one item."""
    Phase.objects.select_for_update().get(pk=phase.pk)
    entered = replace(entered, inputs=with_lines(entered.inputs))
    twin = _just_added(phase, entered)
    if twin:
        return twin
    last = TakeoffItem.objects.filter(phase=phase).aggregate(last=Max("position"))["last"] or 0
    item = TakeoffItem(phase=phase, kind=entered.kind, title=entered.title, inputs=entered.inputs)
    item.position = last + 1
    _compute(item)
    item.full_clean()
    item.save()
    record(person=person, thing=item, action="taken off", job=phase.job, after={"title": item.title})
    return item


def _just_added(phase: Phase, entered: Entered) -> TakeoffItem | None:
    lately = timezone.now() - SENT_TWICE_WITHIN
    recent = TakeoffItem.objects.filter(
        phase=phase, kind=entered.kind, title=entered.title, computed_at__gte=lately, version=1
    )
    return next((item for item in recent if item.inputs == entered.inputs), None)


def _compute(item: TakeoffItem) -> None:
    item.inputs = with_lines(item.inputs)
    result = computed(item.kind, item.inputs)
    key = str(item.inputs.get("material_key") or "")
    item.material_id = int(key) if key.isdigit() else None
    item.result = registry.result_to_json(result)
    item.rule_version = result.rule
    item.computed_at = timezone.now()


@transaction.atomic
def change_item(*, item: TakeoffItem, entered: Entered, version: int, person: Person) -> TakeoffItem:
    """The item holds what was entered, computed again. Refused (`StaleError`) if somebody saved meanwhile."""
    stored = TakeoffItem.objects.select_for_update().select_related("phase__job").get(pk=item.pk)
    entered = replace(entered, inputs=with_lines(entered.inputs))
    if (stored.kind, stored.title, stored.inputs) == (entered.kind, entered.title, entered.inputs):
        return stored
    if stored.version != version:
        raise StaleError(stored)
    before = {"title": stored.title, "inputs": str(stored.inputs)}
    stored.kind, stored.title, stored.inputs = entered.kind, entered.title, entered.inputs
    _compute(stored)
    stored.version += 1
    stored.full_clean()
    stored.save(update_fields=["kind", "title", "inputs", "version", *COMPUTED])
    after = {"title": stored.title, "inputs": str(stored.inputs)}
    record(person=person, thing=stored, action="edited", job=stored.phase.job, before=before, after=after)
    _move_with(stored, person)
    return stored


def _move_with(item: TakeoffItem, person: Person) -> None:
    """What is set out on the lines of an item moves with them.

    Where it can't be any more, it stays as it was and says so when it is next computed or typed.
    """
    set_out = TakeoffItem.objects.select_for_update(of=("self",)).select_related("phase__job")
    for other in set_out.filter(phase__job=item.phase.job_id, kind="setting_out", inputs__snap_item=item.pk):
        with suppress(MeasureAgain):
            _compute_anew(other, person)


def _compute_anew(item: TakeoffItem, person: Person) -> bool:
    """Compute an item again; True where it came out differently."""
    before = item.result
    _compute(item)
    if item.result == before:
        return False
    item.version += 1
    item.save(update_fields=["inputs", "version", *COMPUTED])
    record(person=person, thing=item, action="computed again", job=item.phase.job)
    return True


@transaction.atomic
def remove_item(*, item: TakeoffItem, person: Person) -> dict[str, Any]:
    """The item is gone from its phase; what is given back is all that `put_back` needs. Twice: nothing."""
    stored = TakeoffItem.objects.select_for_update().select_related("phase__job").filter(pk=item.pk).first()
    if stored is None:
        return {}
    kept = {name: getattr(stored, name) for name in ("pk", "kind", "title", "inputs", "position", "version")}
    record(
        person=person, thing=stored, action="removed", job=stored.phase.job, before={"title": stored.title}
    )
    kept["phase"] = stored.phase_id
    stored.delete()
    return kept


@transaction.atomic
def put_back(*, kept: Mapping[str, Any], person: Person) -> TakeoffItem:
    """The removed item stands in its phase again, computed by today's catalogue; put back twice, it is one.

    Refused where its phase is gone.
    """
    phase = Phase.objects.select_for_update().select_related("job").filter(pk=kept["phase"]).first()
    if phase is None:
        raise RefusedError("Its phase is gone, so there is nowhere to put it back.")
    standing = TakeoffItem.objects.filter(pk=kept["pk"]).first()
    if standing:
        return standing
    item = TakeoffItem(phase=phase, **{name: kept[name] for name in kept if name != "phase"})
    _compute(item)
    item.save(force_insert=True)
    record(person=person, thing=item, action="put back", job=phase.job, after={"title": item.title})
    return item


def other_hand(*, item: TakeoffItem, person: Person) -> TakeoffItem:
    """A second item like this one, left for right. Refused for an item that has no outline."""
    outline = item.inputs.get("outline")
    if not isinstance(outline, dict):
        raise RefusedError("Only what has an outline can be turned to the other hand.")
    turned = {**item.inputs, "outline": {**outline, "other_hand": not outline.get("other_hand", False)}}
    title = f"{item.title}, other hand"[:120]
    return add_item(phase=item.phase, entered=Entered(item.kind, title, turned), person=person)


@transaction.atomic
def compute_again(*, phase: Phase, person: Person) -> int:
    """Every item of the phase is computed by today's catalogue; says how many came out differently."""
    items = (
        TakeoffItem.objects.select_for_update(of=("self",)).select_related("phase__job").filter(phase=phase)
    )
    return sum(_compute_anew(item, person) for item in items)


def copy_takeoffs(phases: Mapping[Phase, Phase]) -> None:
    """The items of each old phase stand in its new one as they were computed."""
    items = TakeoffItem.objects.filter(phase__in=list(phases)).order_by("position", "pk")
    new_by_old = {old.pk: new for old, new in phases.items()}
    old = [item.pk for item in items]
    copies = [_copied(item, new_by_old[item.phase_id]) for item in items]
    TakeoffItem.objects.bulk_create(copies)
    new_of_old = dict(zip(old, (copy.pk for copy in copies), strict=True))
    for copy in copies:
        if copy.inputs.get("snap_item") in new_of_old:
            copy.inputs["snap_item"] = new_of_old[copy.inputs["snap_item"]]
            copy.save(update_fields=["inputs"])


def _copied(item: TakeoffItem, phase: Phase) -> TakeoffItem:
    item.pk, item._state.adding = None, True
    item.phase, item.version = phase, 1
    return item
