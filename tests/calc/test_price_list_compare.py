"""What a list would change: the second time nothing, and a supplier never renames what the maker named."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.pricelist.compare import Known, KnownMaterial, KnownPrice, compare
from materials.pricelist.line import Line

DAY = date(2026, 11, 25)
BOARD = (24000, 0, Decimal(1))
LINE = Line(
    row=2,
    code="",
    name="Ash",
    kind="board",
    supplier="Weir Timber",
    supplier_code="W1",
    length_mm10=24000,
    width_mm10=None,
    pack_quantity=Decimal(1),
    size_said=True,
    price=Decimal("12.50"),
    price_per="each",
    from_date=DAY,
)
NOTHING = Known({}, {}, {}, {})


def known(price: str = "10.00", *, supplier_code: str = "W1", **material: Any) -> Known:
    one = {"code": "B-001", "name": "Ash, planed", "kind": "board", "details": {"species": ""}, **material}
    return Known(
        materials={"B-001": KnownMaterial(**one)},
        sizes={"B-001": frozenset({BOARD})},
        prices={
            ("B-001", BOARD, "weir timber"): (KnownPrice(Decimal(price), date(2026, 1, 1), supplier_code),)
        },
        suppliers={"weir timber": "Weir Timber"},
    )


def found(*lines: Line, catalogue: Known = NOTHING) -> Any:
    return compare(lines, catalogue, currency="GBP")


def reasons(comparison: Any) -> list[tuple[int, str, str]]:
    return [(one.row, one.column, one.reason) for one in comparison.problems]


def test_a_new_line_is_a_new_material_size_supplier_and_first_price() -> None:
    comparison = found(LINE)
    assert list(comparison.new_materials) == ["W1"]
    assert (comparison.new_suppliers, comparison.new_sizes) == (["Weir Timber"], [("W1", BOARD)])
    (price,) = comparison.prices
    assert (price.price, price.before) == (Decimal("12.50"), None)


def test_the_suppliers_code_finds_the_material_and_the_price_is_new_by_date() -> None:
    comparison = found(LINE, catalogue=known())
    assert not comparison.new_materials
    assert not comparison.changed_materials
    (price,) = comparison.prices
    assert (price.code, price.before, price.price) == ("B-001", Decimal("10.00"), Decimal("12.50"))


def test_a_code_and_a_price_are_enough_where_the_code_is_known() -> None:
    bare = replace(LINE, name="", kind="", length_mm10=None, size_said=False)
    (price,) = found(bare, catalogue=known()).prices
    assert price.size == BOARD


def test_the_same_price_changes_nothing() -> None:
    comparison = found(LINE, catalogue=known("12.50"))
    assert comparison.changes_nothing
    assert comparison.unchanged == 1


def test_a_supplier_fills_gaps_but_never_renames() -> None:
    line = replace(LINE, details=(("species", "Fraxinus excelsior"), ("unit", "m")))
    catalogue = known(details={"species": "", "unit": "each"})
    comparison = found(line, catalogue=catalogue)
    assert comparison.changed_materials == {"B-001": {"species": ("", "Fraxinus excelsior")}}


def test_own_code_speaks_for_the_catalogue() -> None:
    line = replace(LINE, code="B-001", name="Ash, planed all round")
    comparison = found(line, catalogue=known())
    assert comparison.changed_materials == {"B-001": {"name": ("Ash, planed", "Ash, planed all round")}}


def test_lines_of_one_name_are_sizes_of_one_material() -> None:
    longer = replace(LINE, row=3, supplier_code="W2", length_mm10=30000)
    comparison = found(LINE, longer)
    assert list(comparison.new_materials) == ["W1"]
    assert len(comparison.new_sizes) == len(comparison.prices) == 2


def test_two_prices_for_one_size_in_a_list_are_refused_and_a_repeat_is_not() -> None:
    other = replace(LINE, row=3, price=Decimal("13.00"))
    assert reasons(found(LINE, other)) == [(3, "price", "Row 2 gives the same size another price.")]
    comparison = found(LINE, replace(LINE, row=3))
    assert (len(comparison.prices), comparison.unchanged, comparison.problems) == (1, 1, [])


@pytest.mark.parametrize(
    ("change", "column"),
    [
        ({"name": "", "supplier_code": "W9"}, "name"),
        ({"kind": "", "supplier_code": "W9", "name": "Elm"}, "kind"),
        ({"supplier_code": "", "name": "Elm"}, "code"),
        ({"supplier_code": "B-001", "name": "Elm"}, "code"),
        ({"kind": "sheet"}, "kind"),
        ({"price_per": "m", "length_mm10": None}, "price"),
        ({"price_per": "m²"}, "price"),
    ],
    ids=lambda value: str(value)[:40],
)
def test_rows_that_cannot_be_told_say_why(change: dict[str, Any], column: str) -> None:
    comparison = found(replace(LINE, **change), catalogue=known())
    assert [one.column for one in comparison.problems] == [column]
    assert not comparison.prices


@pytest.mark.parametrize(
    ("per", "size", "price", "whole"),
    [
        ("m", {"length_mm10": 24000}, "1.85", "4.44"),
        ("m", {"length_mm10": 24000, "pack_quantity": Decimal(5)}, "1.85", "22.20"),
        ("m²", {"length_mm10": 24400, "width_mm10": 12200}, "20.29", "60.40"),
        ("100", {"pack_quantity": Decimal(200)}, "3.955", "7.91"),
        ("1000", {"pack_quantity": Decimal(200)}, "39.55", "7.91"),
        ("unit", {"pack_quantity": Decimal("2.5")}, "16.60", "41.50"),
        ("each", {"pack_quantity": Decimal("2.5")}, "41.505", "41.505"),
    ],
)
def test_a_price_by_measure_becomes_the_price_of_the_size(
    per: str, size: dict[str, Any], price: str, whole: str
) -> None:
    line = replace(LINE, **{"length_mm10": None, **size, "price_per": per, "price": Decimal(price)})
    assert found(line).prices[0].price == Decimal(whole)


@given(
    st.lists(
        st.tuples(st.integers(1, 6), st.integers(500, 6000), st.decimals(0, 999, places=2)),
        max_size=20,
        unique_by=lambda row: (row[0], row[1]),
    )
)
def test_what_was_written_is_not_written_again(rows: list[tuple[int, int, Decimal]]) -> None:
    lines = [
        replace(
            LINE,
            row=at,
            code=f"B{one}",
            supplier_code="",
            name=f"Board {one}",
            length_mm10=length,
            price=price,
        )
        for at, (one, length, price) in enumerate(rows, start=2)
    ]
    first = found(*lines)
    after = Known(
        materials={
            code: KnownMaterial(code, new.name, new.kind, dict(new.details))
            for code, new in first.new_materials.items()
        },
        sizes={
            code: frozenset(size for of, size in first.new_sizes if of == code)
            for code in first.new_materials
        },
        prices={
            (new.code, new.size, new.supplier.casefold()): (KnownPrice(new.price, new.from_date),)
            for new in first.prices
        },
        suppliers={name.casefold(): name for name in first.new_suppliers},
    )
    assert found(*lines, catalogue=after).changes_nothing
    assert len(first.prices) == len(lines)
