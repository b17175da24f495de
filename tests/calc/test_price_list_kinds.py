"""What a row is that does not say: guessed from the words of the trade, never from nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.enums import MaterialKind
from materials.pricelist.kinds import guess_kind
from materials.pricelist.line import Problem, rows_said, said_once
from tests.calc.test_price_list_compare import LINE


def guess(name: str, unit: str = "", **fields: Any) -> str:
    details = {"unit": unit, **fields.pop("details", {})}
    plain = {"name": name, "kind": "", "length_mm10": None, "details": tuple(details.items())}
    return guess_kind(replace(LINE, **{**plain, **fields}))


@pytest.mark.parametrize(
    ("name", "unit", "kind"),
    [
        ("Redwood tongue and groove 14 x 95 mm", "each", "board"),
        ("Sawn batten 38 x 63 mm", "each", "length"),
        ("Roof battens 25 x 50 mm", "each", "length"),
        ("Birch plywood 12 mm 2440 x 1220", "sheet", "sheet"),
        ("Moisture resistant MDF 18 mm 2440 x 1220", "sheet", "sheet"),
        ("Oak architrave 18 x 44 mm", "each", "length"),
        ("Primed skirting board 15 x 95 mm", "m", "length"),
        ("Screws 4.0 x 35 mm box of 200", "box", "fixing"),
        ("Chipboard screws 4.0 x 35 mm", "100", "fixing"),
        ("Panel pins 40 mm box of 500", "box", "fixing"),
        ("Hard wax oil 1 litre tin", "tin", "liquid"),
        ("Eggshell paint 2.5 litre tin", "tin", "liquid"),
        ("Wood glue 1 litre", "each", "liquid"),
        ("Brass hinge 63 mm", "pair", "piece"),
        ("Larch 20 x 145", "m", "length"),
        ("Satin white", "tin", "liquid"),
        ("Escutcheon", "pair", "piece"),
        ("Birch 12 mm 2440 x 1220", "", "sheet"),
        ("Oak 2440 x 120", "", ""),
        ("Sundries", "each", ""),
        ("", "", ""),
    ],
)
def test_words_and_units_of_the_trade(name: str, unit: str, kind: str) -> None:
    assert guess(name, unit) == kind


@pytest.mark.parametrize(
    ("fields", "kind"),
    [
        ({"length_mm10": 24400, "width_mm10": 12200}, "sheet"),
        ({"length_mm10": 24000, "details": {"cover_width_mm10": 1120}}, "board"),
        ({"length_mm10": 24000, "details": {"width_mm10": 1450}}, "board"),
        ({"length_mm10": 24000, "details": {"width_mm10": 440}}, "length"),
        ({"length_mm10": 24000}, "length"),
    ],
)
def test_measures_where_no_word_tells(fields: dict[str, Any], kind: str) -> None:
    assert guess("Item 12", **fields) == kind


@given(name=st.text(max_size=80), unit=st.text(max_size=12))
def test_any_words_give_a_kind_or_none(name: str, unit: str) -> None:
    assert guess(name, unit) in {"", *MaterialKind.values}


def test_one_fault_of_many_rows_is_said_once() -> None:
    problems = [Problem(row, "Supplier", "none") for row in (4, 2, 3, 9)] + [Problem(3, "Price", "POA")]
    assert [(one.rows, one.column) for one in said_once(problems)] == [("2–4, 9", "Supplier"), ("3", "Price")]


def test_a_long_row_of_rows_breaks_off() -> None:
    assert rows_said(range(2, 90, 2)).endswith(", 40 and 24 more")
