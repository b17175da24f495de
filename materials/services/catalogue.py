"""Keep the catalogue: materials, their sizes, their prices, the suppliers."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs.history import record, snapshot
from jobs.models import Person
from jobs.versions import StaleError, save_edit
from materials.models import Material, Price, StockSize, Supplier

_LETTERS = {"board": "B", "sheet": "S", "length": "L", "piece": "P", "liquid": "Q", "fixing": "F"}


@transaction.atomic
def add_material(*, kind: str, details: Mapping[str, Any], person: Person) -> Material:
    """There is a new material. Without a code it gets the next of its kind: B-001, B-002."""
    material = Material(kind=kind, **{**details, "code": details.get("code") or _next_code(kind)})
    material.full_clean()
    material.save(force_insert=True)
    record(person=person, thing=material, action="added")
    return material


def _next_code(kind: str) -> str:
    start = f"{_LETTERS[kind]}-"
    taken = Material.objects.filter(code__startswith=start).values_list("code", flat=True)
    numbers = [int(code.removeprefix(start)) for code in taken if code.removeprefix(start).isdecimal()]
    return f"{start}{max(numbers, default=0) + 1:03d}"


def change_material(
    *, material: Material, version: int, details: Mapping[str, Any], person: Person
) -> Material:
    """The material says what was typed. Refused (`StaleError`) where somebody else saved meanwhile."""
    details = {**details, "code": details.get("code") or material.code}
    return save_edit(material, version=version, details=details, person=person)


Archivable = Material | Supplier | StockSize


@transaction.atomic
def archive(*, thing: Archivable, person: Person) -> None:
    """It is out of the lists and the choices; what refers to it stays. Archived already: nothing changes."""
    if _set_archived(thing, now=True):
        record(person=person, thing=thing, action="put away")


@transaction.atomic
def bring_back(*, thing: Archivable, person: Person) -> None:
    """It is in the lists again."""
    if _set_archived(thing, now=False):
        record(person=person, thing=thing, action="brought back")


def _set_archived(thing: Archivable, *, now: bool) -> bool:
    rows = type(thing)._default_manager.filter(pk=thing.pk, archived_at__isnull=now)
    return bool(rows.update(archived_at=timezone.now() if now else None))


@transaction.atomic
def add_size(
    *,
    material: Material,
    length_mm10: int | None,
    width_mm10: int | None,
    pack_quantity: Decimal,
    person: Person,
    first_price: Mapping[str, Any] | None = None,
) -> StockSize:
    """The material is sold in this size, at this price if one is given (as `set_price` takes it).

    A size that is there already is given back, out of the archive.
    """
    size, made = StockSize.objects.get_or_create(
        material=material, length_mm10=length_mm10, width_mm10=width_mm10, pack_quantity=pack_quantity
    )
    if made:
        record(person=person, thing=size, action="added")
    else:
        bring_back(thing=size, person=person)
    if first_price:
        set_price(size=size, person=person, **first_price)
    return size


@transaction.atomic
def set_price(
    *,
    size: StockSize,
    supplier: Supplier,
    price: Decimal,
    from_date: date,
    supplier_code: str = "",
    person: Person,
    version: int | None = None,
) -> Price:
    """From that day on the size costs this at the supplier. A price for the same day is replaced.

    With `version`, that of the day's price as it was seen (nought for none), another price that somebody
    else has written meanwhile is refused (`StaleError`).
    """
    there = (
        Price.objects.select_for_update().filter(size=size, supplier=supplier, from_date=from_date).first()
    )
    if there and version is not None and there.version != version and there.price != price:
        raise StaleError(there)
    written = there or Price(size=size, supplier=supplier, from_date=from_date)
    before = snapshot(written, ["price", "supplier_code"]) if there else {}
    written.price = price
    written.supplier_code = supplier_code or written.supplier_code or _code_so_far(size, supplier)
    written.version += 1 if there else 0
    written.full_clean(validate_constraints=there is None)
    written.save()
    after = snapshot(written, ["price", "supplier_code"])
    if before != after:
        record(person=person, thing=written, action="price set", before=before, after=after)
    return written


def _code_so_far(size: StockSize, supplier: Supplier) -> str:
    code = (
        Price.objects.filter(size=size, supplier=supplier)
        .exclude(supplier_code="")
        .order_by("-from_date")
        .values_list("supplier_code", flat=True)
        .first()
    )
    return code or ""


@transaction.atomic
def remove_price(*, price: Price, person: Person) -> None:
    """A price written down by mistake is gone from the history of prices; the record of changes keeps it."""
    gone = snapshot(price, ["price", "supplier", "from_date"])
    record(person=person, thing=price.size, action="price removed", before=gone)
    price.delete()


@transaction.atomic
def add_supplier(*, details: Mapping[str, Any], person: Person) -> Supplier:
    """There is a new supplier."""
    supplier = Supplier(**details)
    supplier.full_clean()
    supplier.save(force_insert=True)
    record(person=person, thing=supplier, action="added")
    return supplier


def change_supplier(
    *, supplier: Supplier, version: int, details: Mapping[str, Any], person: Person
) -> Supplier:
    """The supplier says what was typed. Refused (`StaleError`) where somebody else saved meanwhile."""
    return save_edit(supplier, version=version, details=details, person=person)
