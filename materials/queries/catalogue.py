"""What is in the catalogue, and what is known of one material?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet

from jobs.lengths import System, format_length
from jobs.matching import answering
from jobs.models import Person
from jobs.search import MOST_OF_A_KIND, Found
from jobs.workshop import current_workshop
from materials.enums import MaterialKind
from materials.models import Material, Price, StockSize, Supplier
from materials.queries.prices import Offer, PricedSize, priced_sizes
from materials.size_words import size_words

A_PAGE = 50


@dataclass(frozen=True)
class Shown:
    """One material of the list. `cheapest` is the best price of its cheapest size."""

    material: Material
    sizes: str
    cheapest: Decimal | None


@dataclass(frozen=True)
class CatalogueList:
    """One page of the catalogue as filtered."""

    rows: tuple[Shown, ...]
    page: Page[Material]
    words: str
    kind: str
    archived: bool
    kinds: tuple[tuple[str, str], ...]


def catalogue_list(*, words: str, kind: str, archived: bool, page: str | int, on: date) -> CatalogueList:
    """A page of the catalogue with sizes and cheapest prices, in four queries."""
    kind = kind if kind in MaterialKind.values else ""
    found = Paginator(_filtered(words, kind, archived), A_PAGE).get_page(page)
    materials = list(found.object_list)
    sizes = priced_sizes([material.pk for material in materials], on=on)
    return CatalogueList(
        rows=tuple(_shown(material, sizes[material.pk]) for material in materials),
        page=found,
        words=words,
        kind=kind,
        archived=archived,
        kinds=tuple((value, KIND_NAMES[value]) for value in MaterialKind.values),
    )


KIND_NAMES = {
    "board": "Boards",
    "sheet": "Sheets",
    "length": "Lengths",
    "piece": "Pieces",
    "liquid": "Liquids",
    "fixing": "Fixings",
}


def _filtered(words: str, kind: str, archived: bool) -> QuerySet[Material]:
    materials = Material.objects.filter(archived_at__isnull=not archived)
    if kind:
        materials = materials.filter(kind=kind)
    materials = answering(materials, words, "name", "code", "species")
    return materials.order_by("kind", "name", "pk")


def _shown(material: Material, sizes: tuple[PricedSize, ...]) -> Shown:
    prices = [size.price for size in sizes if size.price is not None]
    names = [words_of(material, size) for size in sizes]
    more = f" and {len(names) - 4} more" if len(names) > 4 else ""
    return Shown(material, "; ".join(names[:4]) + more, min(prices, default=None))


def words_of(material: Material, size: PricedSize | StockSize) -> str:
    """A size in words, in the workshop's system."""
    return size_words(
        size.length_mm10,
        size.width_mm10,
        size.pack_quantity,
        unit=material.unit,
        system=System(current_workshop().measurement),
    )


@dataclass(frozen=True)
class SizeLine:
    """One offer for a size. `of_unit` is the price of a metre, m² or unit; `is_first` opens a size's rows."""

    size: PricedSize
    name: str
    is_first: bool
    offer: Offer | None
    of_unit: Decimal | None
    unit: str


@dataclass(frozen=True)
class PastPrice:
    """One price of the history with the change from the one before it at that supplier."""

    price: Price
    size: str
    change_percent: Decimal | None


@dataclass(frozen=True)
class MaterialPage:
    """All that the page of one material shows; prices only for those who see them."""

    material: Material
    facts: tuple[tuple[str, str], ...]
    lines: tuple[SizeLine, ...]
    history: tuple[PastPrice, ...]
    archived_sizes: tuple[tuple[int, str], ...]
    size_names: dict[int, str]


def material_page(material: Material, *, on: date, with_prices: bool) -> MaterialPage:
    """The material with sizes, current prices by supplier and the history, in four queries."""
    sizes = priced_sizes([material.pk], on=on)[material.pk]
    archived = StockSize.objects.filter(material=material).exclude(archived_at=None)
    return MaterialPage(
        material=material,
        facts=_facts(material),
        lines=tuple(line for size in sizes for line in _lines(material, size, with_prices)),
        history=_history(material) if with_prices else (),
        archived_sizes=tuple((size.pk, words_of(material, size)) for size in archived),
        size_names={size.size_id: words_of(material, size) for size in sizes},
    )


def _facts(material: Material) -> tuple[tuple[str, str], ...]:
    system = System(current_workshop().measurement)

    def length(value: int | None) -> str:
        return format_length(value, system) if value else ""

    def figure(value: Decimal | None, unit: str) -> str:
        return f"{value.normalize():f} {unit}" if value is not None else ""

    density = figure(material.density_kg_m3, "kg/m³")
    if density and material.moisture_percent is not None:
        density += f" at {figure(material.moisture_percent, '% moisture')}"
    if density and material.density_source:
        density += f" ({material.density_source})"
    said = [
        ("Width", length(material.width_mm10)),
        ("Thickness", length(material.thickness_mm10)),
        ("Covers", length(material.cover_width_mm10)),
        ("Tongue", length(material.tongue_mm10)),
        ("Species" if material.kind != MaterialKind.SHEET else "Make-up", material.species),
        ("Grain", material.get_grain_display() if material.kind in _HAS_GRAIN else ""),
        ("Density", density),
        ("Mass", figure(material.mass_per_unit_kg, f"kg a {_UNIT_WORDS.get(material.unit, material.unit)}")),
        ("One covers", figure(material.coverage_m2, f"m² a {_UNIT_WORDS.get(material.unit, material.unit)}")),
        ("Reclaimed", "yes, at no price" if material.reclaimed else ""),
        ("Notes", material.notes),
    ]
    return tuple((name, value) for name, value in said if value)


_HAS_GRAIN = frozenset({MaterialKind.BOARD, MaterialKind.SHEET, MaterialKind.LENGTH})
_UNIT_WORDS = {"each": "piece", "l": "litre", "m": "metre"}


def _lines(material: Material, size: PricedSize, with_prices: bool) -> list[SizeLine]:
    offers: tuple[Offer | None, ...] = (size.offers if with_prices else ()) or (None,)
    measure, unit = _measure(material, size)
    return [
        SizeLine(
            size=size,
            name=words_of(material, size),
            is_first=at == 0,
            offer=offer,
            of_unit=offer.price / measure if offer and measure else None,
            unit=unit,
        )
        for at, offer in enumerate(offers)
    ]


def _measure(material: Material, size: PricedSize) -> tuple[Decimal, str]:
    """How much there is in a size, in the unit that prices are compared by."""
    if size.length_mm10 and size.width_mm10:
        return Decimal(size.length_mm10) * size.width_mm10 / 100_000_000 * size.pack_quantity, "m²"
    if size.length_mm10:
        return Decimal(size.length_mm10) / 10_000 * size.pack_quantity, "m"
    return size.pack_quantity, material.unit


def _history(material: Material) -> tuple[PastPrice, ...]:
    prices = list(
        Price.objects.filter(size__material=material)
        .select_related("size", "supplier")
        .order_by("size", "supplier", "from_date")
    )
    before: dict[tuple[int, int], Decimal] = {}
    past = []
    for price in prices:
        old = before.get((price.size_id, price.supplier_id))
        change = (price.price - old) / old * 100 if old else None
        past.append(PastPrice(price, words_of(material, price.size), change))
        before[(price.size_id, price.supplier_id)] = price.price
    return tuple(sorted(past, key=lambda one: (one.price.from_date, one.price.pk), reverse=True)[:200])


def look_for_materials(words: str, person: Person) -> list[Found]:
    """The materials that the search box finds."""
    return [
        Found(str(material), material.get_absolute_url(), f"{material.get_kind_display()} {material.code}")
        for material in _filtered(words, "", archived=False)[:MOST_OF_A_KIND]
    ]


def supplier_list(*, archived: bool) -> QuerySet[Supplier]:
    return Supplier.objects.filter(archived_at__isnull=not archived)
