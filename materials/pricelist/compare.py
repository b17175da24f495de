"""What would a price list change in the catalogue? Nothing is written here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any

from jobs.money import round_money
from materials.pricelist.contents import UnsaidError, filled
from materials.pricelist.line import Line, Problem

SizeKey = tuple[int, int, Decimal]


@dataclass(frozen=True)
class KnownMaterial:
    """A material as the catalogue has it; `details` are its facts by field."""

    code: str
    name: str
    kind: str
    details: Mapping[str, Any]
    archived: bool = False


@dataclass(frozen=True)
class KnownPrice:
    """One price in the history of a size at a supplier."""

    price: Decimal
    from_date: date
    supplier_code: str = ""


@dataclass(frozen=True)
class Known:
    """The catalogue as it stands, by own code, size, and the supplier's name in small letters."""

    materials: Mapping[str, KnownMaterial]
    sizes: Mapping[str, frozenset[SizeKey]]
    prices: Mapping[tuple[str, SizeKey, str], tuple[KnownPrice, ...]]
    suppliers: Mapping[str, str]


@dataclass(frozen=True)
class NewMaterial:
    code: str
    name: str
    kind: str
    details: tuple[tuple[str, Any], ...]


@dataclass(frozen=True)
class NewPrice:
    """A price to be written. `before` is the price that holds until then, if there is one."""

    row: int
    code: str
    size: SizeKey
    supplier: str
    supplier_code: str
    price: Decimal
    from_date: date
    before: Decimal | None


@dataclass
class Comparison:
    """What the list would change, and which rows can't be taken."""

    new_suppliers: list[str] = field(default_factory=list)
    new_materials: dict[str, NewMaterial] = field(default_factory=dict)
    changed_materials: dict[str, dict[str, tuple[Any, Any]]] = field(default_factory=dict)
    new_sizes: list[tuple[str, SizeKey]] = field(default_factory=list)
    prices: list[NewPrice] = field(default_factory=list)
    codes_changed: list[NewPrice] = field(default_factory=list)
    unchanged: int = 0
    without_price: int = 0
    problems: list[Problem] = field(default_factory=list)
    kindless: list[Line] = field(default_factory=list)

    @property
    def first_prices(self) -> int:
        return sum(1 for price in self.prices if price.before is None)

    @property
    def changes_nothing(self) -> bool:
        return not (
            self.new_suppliers
            or self.new_materials
            or self.changed_materials
            or self.new_sizes
            or self.prices
            or self.codes_changed
        )


def compare(lines: Iterable[Line], known: Known, *, currency: str) -> Comparison:
    """What the lines would change, each line after the other.

    A line's material is found by own code, else by the supplier's code, else by kind and name; a line that
    finds none is a new material. Own code makes the list speak for the catalogue: what it states replaces
    what is there. Found another way, it is a supplier's list: it fills gaps and never renames.
    A price equal to the one that holds on its day changes nothing; one for a day that has one replaces it.
    """
    comparing = _Comparing(known, currency)
    for line in lines:
        comparing.take(line)
    return comparing.found


class _Comparing:
    def __init__(self, known: Known, currency: str) -> None:
        self.known, self.currency = known, currency
        self.found = Comparison()
        self.materials = dict(known.materials)
        self.sizes = {code: set(sizes) for code, sizes in known.sizes.items()}
        self.suppliers = dict(known.suppliers)
        self.by_name = {
            (m.kind, m.name.casefold()): m.code for m in known.materials.values() if not m.archived
        }
        self.by_supplier_code = {
            (supplier, price.supplier_code.casefold()): (code, size)
            for (code, size, supplier), history in known.prices.items()
            for price in sorted(history, key=lambda price: price.from_date)
            if price.supplier_code
        }
        self.given: dict[tuple[str, SizeKey, str, date], tuple[Decimal, int]] = {}

    def take(self, line: Line) -> None:
        code, size = self._whose(line)
        if not code:
            return
        if size == line.size and not self._is_known_so(line, code):
            try:
                line = filled(line, self._kind_of(code) or line.kind)
            except UnsaidError as unsaid:
                self._amiss(line, "pack", str(unsaid))
                return
            size = line.size
        price = self._price_of_pack(line, size)
        if line.price is not None and price is None:
            return
        if line.kind and code in self.materials and self.materials[code].kind != line.kind:
            there = self.materials[code]
            self._amiss(line, "kind", f"“{there.name}” ({code}) is a {there.kind}, not a {line.kind}.")
            return
        self._take_material(line, code)
        self._take_size(code, size)
        if price is None:
            self.found.without_price += 1
        else:
            self._take_price(line, code, size, price)

    def _kind_of(self, code: str) -> str:
        return self.materials[code].kind if code in self.materials else ""

    def _is_known_so(self, line: Line, code: str) -> bool:
        """The catalogue has that size and counts it as the row does: as it was taken out of there."""
        there = self.known.materials.get(code)
        if there is None or line.size not in self.known.sizes.get(code, ()):
            return False
        return line.unit == there.details.get("unit") or not (line.unit or line.litres)

    def _whose(self, line: Line) -> tuple[str, SizeKey]:
        """The own code and the size a line is about; no code where that can't be told."""
        by_code = self.by_supplier_code.get((line.supplier.casefold(), line.supplier_code.casefold()))
        if not line.supplier_code:
            by_code = None
        if line.code and line.code in self.materials:
            size = by_code[1] if by_code and by_code[0] == line.code and not line.size_said else line.size
            return line.code, size
        if by_code and not line.code:
            return by_code[0], line.size if line.size_said else by_code[1]
        same_name = (
            self.by_name.get((line.kind, line.name.casefold())) if line.name and not line.code else None
        )
        return (same_name, line.size) if same_name else (self._new_code(line), line.size)

    def _new_code(self, line: Line) -> str:
        code = line.code or line.supplier_code
        if not line.name:
            return self._amiss(line, "name", "is not in the catalogue yet, and a new material needs a name.")
        if not code:
            return self._amiss(line, "code", "A new material needs a code: its own or the supplier's.")
        if not line.kind:
            self.found.kindless.append(line)
            return self._amiss(line, "kind", "A new material needs a kind: say above what it is.")
        if len(code) > 40:
            return self._amiss(line, "code", "is longer than 40 letters.")
        if code in self.materials:
            other = self.materials[code].name
            return self._amiss(line, "code", f"“{code}” is already the own code of “{other}”.")
        return code

    def _amiss(self, line: Line, column: str, reason: str) -> str:
        self.found.problems.append(Problem(line.row, column, reason))
        return ""

    def _take_material(self, line: Line, code: str) -> None:
        there = self.materials.get(code)
        if there is None:
            self.found.new_materials[code] = NewMaterial(code, line.name, line.kind, line.details)
            self.materials[code] = KnownMaterial(code, line.name, line.kind, dict(line.details))
            self.by_name[(line.kind, line.name.casefold())] = code
            return
        stated = dict(line.details) | ({"name": line.name} if line.name else {})
        have = {**there.details, "name": there.name}
        changes = {
            name: (have.get(name), value)
            for name, value in stated.items()
            if not _same(have.get(name), value) and (line.code or have.get(name) in (None, ""))
        }
        if changes:
            self._change_material(there, changes)

    def _change_material(self, there: KnownMaterial, changes: dict[str, tuple[Any, Any]]) -> None:
        after = {name: new for name, (_, new) in changes.items()}
        details = {**there.details, **{name: new for name, new in after.items() if name != "name"}}
        name = after.get("name", there.name)
        self.materials[there.code] = KnownMaterial(there.code, name, there.kind, details, there.archived)
        made = self.found.new_materials.get(there.code)
        if made:
            self.found.new_materials[there.code] = NewMaterial(
                made.code, name, made.kind, tuple(details.items())
            )
            return
        first = self.found.changed_materials.setdefault(there.code, {})
        for field_name, (old, new) in changes.items():
            first[field_name] = (first[field_name][0] if field_name in first else old, new)

    def _take_size(self, code: str, size: SizeKey) -> None:
        sizes = self.sizes.setdefault(code, set())
        if size not in sizes:
            sizes.add(size)
            self.found.new_sizes.append((code, size))

    def _take_price(self, line: Line, code: str, size: SizeKey, price: Decimal) -> None:
        supplier = line.supplier.casefold()
        given = self.given.setdefault((code, size, supplier, line.from_date), (price, line.row))
        if given != (price, line.row):
            if given[0] != price:
                self._amiss(line, "price", f"Row {given[1]} gives the same size another price.")
            else:
                self.found.unchanged += 1
            return
        if supplier not in self.suppliers:
            self.suppliers[supplier] = line.supplier
            self.found.new_suppliers.append(line.supplier)
        if line.supplier_code:
            self.by_supplier_code[(supplier, line.supplier_code.casefold())] = (code, size)
        self._write_or_keep(line, code, size, price)

    def _write_or_keep(self, line: Line, code: str, size: SizeKey, price: Decimal) -> None:
        supplier = line.supplier.casefold()
        history = self.known.prices.get((code, size, supplier), ())
        held = _held_on(history, line.from_date)
        new = NewPrice(
            row=line.row,
            code=code,
            size=size,
            supplier=self.suppliers[supplier],
            supplier_code=line.supplier_code or (held.supplier_code if held else ""),
            price=price,
            from_date=line.from_date,
            before=held.price if held else None,
        )
        if held is None or held.price != price:
            self.found.prices.append(new)
        elif held.supplier_code != new.supplier_code:
            self.found.codes_changed.append(replace(new, from_date=held.from_date))
        else:
            self.found.unchanged += 1

    def _price_of_pack(self, line: Line, size: SizeKey) -> Decimal | None:
        """What the whole size costs, where the list has it by the metre, the square metre or the hundred."""
        if line.price is None:
            return None
        share = _SHARES[line.price_per](*size)
        if share == 0:
            needs = "length" if line.price_per == "m" else "length and width"
            self._amiss(line, "price", f"A price per {line.price_per} needs the {needs} of the size.")
            return None
        return line.price if line.price_per == "each" else round_money(line.price * share, self.currency)


_SHARES: dict[str, Callable[[int, int, Decimal], Decimal]] = {
    "each": lambda length, width, pack: Decimal(1),
    "m": lambda length, width, pack: Decimal(length) / 10_000 * pack,
    "m²": lambda length, width, pack: Decimal(length) * width / 100_000_000 * pack,
    "100": lambda length, width, pack: pack / 100,
    "1000": lambda length, width, pack: pack / 1000,
    "unit": lambda length, width, pack: pack,
}
"""How many times the stated price a whole size costs, from its length and width in mm10 and its pack."""


def _same(have: Any, stated: Any) -> bool:
    """Whether a list states what is there already; line breaks in notes don't count."""
    if isinstance(have, str) and isinstance(stated, str):
        return have.split() == stated.split()
    return bool(have == stated)


def _held_on(history: Iterable[KnownPrice], day: date) -> KnownPrice | None:
    return max(
        (price for price in history if price.from_date <= day), key=lambda p: p.from_date, default=None
    )
