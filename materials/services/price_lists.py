"""Bring a price list in: upload, say how it is read, write it whole or not at all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from django.db import transaction
from django.db.models import Count, Max, Sum
from django.utils import timezone

from jobs.history import record, record_all
from jobs.lengths import System
from jobs.models import Person
from jobs.workshop import current_workshop
from materials.models import Material, Price, PriceList, StockSize, Supplier
from materials.pricelist.columns import Column
from materials.pricelist.compare import Comparison, NewMaterial, NewPrice
from materials.pricelist.numbers import COMMA, POINT
from materials.pricelist.read import read_table
from materials.pricelist.reading import as_kept, first_reading, from_kept
from materials.pricelist.table import pack
from materials.queries.catalogue_as_known import CatalogueIndex
from materials.queries.price_lists import USUAL_UNITS, Examined, examine, missing_columns
from materials.takeoff.figures import counted

KEPT_UNWRITTEN = timedelta(days=7)
_AT_A_TIME = 2000
_ENGLISH = ("en", "ja", "zh", "he", "th", "ko")
_MONTH_FIRST = ("en_US",)


class RowsAmissError(Exception):
    """Some rows can't be taken, and the owner has not said to leave them out."""

    def __init__(self, bad_rows: int) -> None:
        super().__init__(f"{counted(bad_rows, 'row')} can’t be taken. Mend the list, or leave bad rows out.")
        self.bad_rows = bad_rows


class NotMatchedError(Exception):
    """A column that is needed has not been matched."""


def upload(*, name: str, content: bytes, sheet: str = "", supplier: str, person: Person) -> PriceList:
    """The list is kept, read as far as its own heads tell. Nothing of the catalogue changes.

    Lists that lay unwritten for a week are thrown away. Raises `UnreadableFileError` for what is no table.
    """
    table = read_table(content, sheet=sheet)
    workshop = current_workshop()
    reading = first_reading(
        table,
        today=timezone.localdate(),
        supplier=supplier,
        usual_mark=POINT if workshop.locale.startswith(_ENGLISH) else COMMA,
        system=System(workshop.measurement),
        month_first=workshop.locale in _MONTH_FIRST,
    )
    kept = {"content": content, "table": pack(table), "reading": as_kept(reading)}
    with transaction.atomic():  # only now: reading a long list takes seconds
        PriceList.objects.filter(written_at=None, uploaded_at__lt=timezone.now() - KEPT_UNWRITTEN).delete()
        return PriceList.objects.create(name=name[:120], person=person, **kept)


def turn_to_sheet(*, price_list: PriceList, sheet: str) -> None:
    """Another sheet of the same workbook is read, with its own heads."""
    kept = price_list.reading
    table = read_table(bytes(price_list.content), sheet=sheet)
    reading = first_reading(
        table,
        today=date.fromisoformat(kept["today"]),
        supplier=kept["supplier"],
        usual_mark=kept["decimal_mark"],
        system=System(kept["system"]),
        month_first=kept["month_first"],
    )
    price_list.table, price_list.reading = pack(table), as_kept(reading)
    price_list.save(update_fields=["table", "reading"])


@transaction.atomic
def match(*, price_list: PriceList, columns: Mapping[int, Column], **how: Any) -> None:
    """The list is read as said from now on. `how` takes the other fields of a `Reading`."""
    price_list.reading = as_kept(replace(from_kept(price_list.reading), columns=columns, **how))
    price_list.save(update_fields=["reading"])


@dataclass(frozen=True)
class Outcome:
    """What was written."""

    suppliers: int
    materials: int
    materials_changed: int
    sizes: int
    first_prices: int
    changed_prices: int
    unchanged: int
    left_out: int


def write(*, price_list: PriceList, leave_out_bad_rows: bool, person: Person) -> PriceList:
    """The catalogue says what the list says, and the list's outcome is kept; its file goes.

    Refused, with nothing written, where rows can't be taken and `leave_out_bad_rows` is not said. A list
    that was written already is not written again.

    A long list is read before the transaction, so that nobody else waits for that; should the catalogue have
    changed meanwhile, it is read again inside.
    """
    price_list = PriceList.objects.get(pk=price_list.pk)
    if price_list.written_at:
        return price_list
    seen = _state_of(price_list)
    return _write(price_list, examine(price_list), seen, leave_out_bad_rows, person)


def _state_of(price_list: PriceList) -> tuple[Any, ...]:
    """Something that differs once the catalogue, or how the list is read, has changed."""
    counted = [
        model._default_manager.aggregate(Count("pk"), Max("pk")) for model in (Supplier, StockSize, Price)
    ]
    materials = Material.objects.aggregate(Count("pk"), Max("pk"), Sum("version"))
    prices = Price.objects.aggregate(Sum("price"))
    return (*counted, materials, prices, price_list.reading)


@transaction.atomic
def _write(
    price_list: PriceList, examined: Examined, seen: tuple[Any, ...], leave_out_bad_rows: bool, person: Person
) -> PriceList:
    price_list = PriceList.objects.select_for_update().get(pk=price_list.pk)
    if price_list.written_at:
        return price_list
    if _state_of(price_list) != seen:
        examined = examine(price_list)
    if missing := missing_columns(examined.reading):
        raise NotMatchedError(f"Match {' and '.join(missing)} first.")
    if examined.bad_rows and not leave_out_bad_rows:
        raise RowsAmissError(examined.bad_rows)
    _Writing(examined.index, person).write(examined.comparison)
    price_list.written_at = timezone.now()
    price_list.outcome = vars(_outcome(examined.comparison, examined.bad_rows))
    price_list.content = price_list.table = b""
    price_list.save(update_fields=["written_at", "outcome", "content", "table"])
    record(person=person, thing=price_list, action="written")
    return price_list


def _outcome(found: Comparison, left_out: int) -> Outcome:
    return Outcome(
        suppliers=len(found.new_suppliers),
        materials=len(found.new_materials),
        materials_changed=len(found.changed_materials),
        sizes=len(found.new_sizes),
        first_prices=found.first_prices,
        changed_prices=len(found.prices) - found.first_prices,
        unchanged=found.unchanged,
        left_out=left_out,
    )


class _Writing:
    """Writes a comparison with a few statements, however long the list."""

    def __init__(self, index: CatalogueIndex, person: Person) -> None:
        self.person = person
        self.material_ids, self.size_ids = dict(index.material_ids), dict(index.size_ids)
        self.supplier_ids = dict(index.supplier_ids)

    def write(self, found: Comparison) -> None:
        self._suppliers(found.new_suppliers)
        self._materials(list(found.new_materials.values()))
        self._changes(found.changed_materials)
        self._sizes(found)
        self._prices([*found.prices, *found.codes_changed])

    def _suppliers(self, names: list[str]) -> None:
        made = Supplier.objects.bulk_create([Supplier(name=name) for name in names], batch_size=_AT_A_TIME)
        self.supplier_ids |= {supplier.name.casefold(): supplier.pk for supplier in made}

    def _materials(self, new: list[NewMaterial]) -> None:
        rows = [
            Material(code=one.code, name=one.name, kind=one.kind, **_with_unit(one.kind, dict(one.details)))
            for one in new
        ]
        made = Material.objects.bulk_create(rows, batch_size=_AT_A_TIME)
        self.material_ids |= {material.code: material.pk for material in made}

    def _changes(self, changes: dict[str, dict[str, tuple[Any, Any]]]) -> None:
        fields = {name for change in changes.values() for name in change}
        if not fields:
            return
        materials = (
            list(Material.objects.filter(code__in=changes)) if len(changes) < 500 else _all_of(changes)
        )
        for material in materials:
            for name, (_, after) in changes[material.code].items():
                setattr(material, name, after)
            material.version += 1
        Material.objects.bulk_update(materials, [*fields, "version"], batch_size=200)
        told = [
            (material, {n: [str(was), str(now)] for n, (was, now) in changes[material.code].items()})
            for material in materials
        ]
        record_all(person=self.person, action="changed by a price list", changes=told)

    def _sizes(self, found: Comparison) -> None:
        rows = [
            StockSize(
                material_id=self.material_ids[code],
                length_mm10=length or None,
                width_mm10=width or None,
                pack_quantity=pack_quantity,
            )
            for code, (length, width, pack_quantity) in found.new_sizes
        ]
        made = StockSize.objects.bulk_create(rows, batch_size=_AT_A_TIME)
        self.size_ids |= {place: size.pk for place, size in zip(found.new_sizes, made, strict=True)}

    def _prices(self, prices: list[NewPrice]) -> None:
        rows = [
            Price(
                size_id=self.size_ids[(one.code, one.size)],
                supplier_id=self.supplier_ids[one.supplier.casefold()],
                price=one.price,
                from_date=one.from_date,
                supplier_code=one.supplier_code,
            )
            for one in prices
        ]
        made = Price.objects.bulk_create(
            rows,
            batch_size=_AT_A_TIME,
            update_conflicts=True,
            unique_fields=["size", "supplier", "from_date"],
            update_fields=["price", "supplier_code"],
        )
        told = [
            (price, {"price": [None if new.before is None else str(new.before), str(new.price)]})
            for price, new in zip(made, prices, strict=True)
        ]
        record_all(person=self.person, action="set by a price list", changes=told)


def _all_of(codes: Mapping[str, Any]) -> list[Material]:
    return [material for material in Material.objects.all() if material.code in codes]


def _with_unit(kind: str, details: dict[str, Any]) -> dict[str, Any]:
    return {"unit": USUAL_UNITS.get(kind, "each"), **details}


@transaction.atomic
def discard(*, price_list: PriceList) -> None:
    """An unwritten list is thrown away; a written one stays as the record of what it changed."""
    PriceList.objects.filter(pk=price_list.pk, written_at=None).delete()
