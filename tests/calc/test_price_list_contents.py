"""What a box or a tin holds: a tin is never taken for a litre, nor a box for a screw."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.lengths import System
from materials.pricelist.compare import Comparison, Known, KnownMaterial, KnownPrice, compare
from materials.pricelist.line import Line
from materials.pricelist.numbers import POINT
from materials.pricelist.read import read_table
from materials.pricelist.reading import first_reading
from materials.pricelist.rows import read_rows

HEADS = "Code,Name,Kind,Pack,Unit,Price,Covers"
NOTHING = Known({}, {}, {}, {})
DAY = date(2026, 11, 25)


def lines_of(row: str, heads: str = HEADS) -> list[Line]:
    table = read_table(f"{heads}\n{row}\n".encode())
    reading = first_reading(
        table, today=DAY, supplier="Weir", usual_mark=POINT, system=System.METRIC, month_first=False
    )
    lines, problems = read_rows(table, reading.heads(table), reading)
    assert not problems
    return lines


def found(row: str, heads: str = HEADS, catalogue: Known = NOTHING) -> Comparison:
    return compare(lines_of(row, heads), catalogue, currency="GBP")


@pytest.mark.parametrize(
    ("row", "pack"),
    [
        ("P1,Eggshell paint 2.5 litre tin,liquid,1,tin,46.00,", "2.5"),
        ("P1,Eggshell paint 2.5 litre,liquid,,tin,46.00,", "2.5"),
        ("P1,Eggshell paint,liquid,2.5,tin,46.00,", "2.5"),
        ("P1,Eggshell paint,liquid,2.5 l,tin,46.00,", "2.5"),
        ('P1,"Eggshell paint, 2,5 l",liquid,,,46.00,', "2.5"),
        ("P1,Wood glue 1 litre,liquid,1,each,9.80,", "1"),
        ("P1,Wood glue 750ml,liquid,,each,9.80,", "0.75"),
        ("P1,Eggshell paint,liquid,,l,18.40,", "1"),
        ("P1,Eggshell paint,liquid,5,,92.00,", "5"),
        ("S1,Screws 4.0 x 35 mm,fixing,200,box,8.40,", "200"),
        ("S1,Screws 4.0 x 35 mm box of 200,fixing,1,box,8.40,", "200"),
        ('S1,"Panel pins 40 mm, 500 per box",fixing,,box,5.90,', "500"),
        ("S1,Screws 4.0 x 35 mm,fixing,,each,0.05,", "1"),
        ("H1,Brass hinge 63 mm,piece,,pair,6.40,", "1"),
    ],
)
def test_a_pack_holds_what_the_row_says(row: str, pack: str) -> None:
    comparison = found(row)
    assert (comparison.problems, [size[2] for _, size in comparison.new_sizes]) == ([], [Decimal(pack)])


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("P1,Eggshell paint,liquid,,tin,46.00,", "How many litres does a tin hold?"),
        ("P1,Eggshell paint,liquid,1,tin,46.00,", "How many litres"),
        ("P1,Wood glue,liquid,1,each,9.80,", "How many litres"),
        ("P1,Wood glue,liquid,,,9.80,", "How many litres"),
        ("P1,Paint 2.5 litre,liquid,6,tin,9.80,", "which is in a tin?"),
        ("P1,Paint in 1 l and 2.5 l tins,liquid,,tin,9.80,", "How many litres"),
        ("S1,Screws 4.0 x 35 mm,fixing,1,box,8.40,", "How many are in a box?"),
    ],
)
def test_a_pack_that_is_not_said_is_asked_for(row: str, words: str) -> None:
    comparison = found(row)
    assert [(one.row, one.column) for one in comparison.problems] == [(2, "pack")]
    assert words in comparison.problems[0].reason
    assert not comparison.new_materials


@pytest.mark.parametrize(
    ("row", "heads", "covers"),
    [
        ("P1,Paint 2.5 litre,liquid,,tin,46.00,30", HEADS, "12"),
        ("P1,Oil,liquid,1 l,tin,38.00,24", HEADS, "24"),
        ("P1,Paint,liquid,2.5,l,46.00,12", HEADS, "12"),
        ("P1,Paint,liquid,2.5 l,tin,46.00,12", HEADS.replace("Covers", "Spreading rate"), "12"),
        ("P1,Paint,liquid,2.5 l,tin,46.00,12", HEADS.replace("Covers", "m2 per litre"), "12"),
    ],
)
def test_what_a_tin_covers_is_not_what_a_litre_covers(row: str, heads: str, covers: str) -> None:
    (made,) = found(row, heads).new_materials.values()
    assert dict(made.details)["coverage_m2"] == Decimal(covers)


def test_a_box_is_no_unit() -> None:
    (screw,) = found("S1,Screws,fixing,200,box,8.40,").new_materials.values()
    (hinge,) = found("H1,Hinge,piece,,pair,6.40,").new_materials.values()
    assert ("unit" in dict(screw.details), dict(hinge.details)["unit"]) == (False, "pair")


def test_what_was_taken_out_of_the_catalogue_goes_in_the_same() -> None:
    """A catalogue that counts in tins is not asked how large they are when its own list comes back."""
    details: dict[str, Any] = {"unit": "tin", "coverage_m2": Decimal(30)}
    size = (0, 0, Decimal(1))
    catalogue = Known(
        materials={"P1": KnownMaterial("P1", "Paint", "liquid", details)},
        sizes={"P1": frozenset({size})},
        prices={("P1", size, "weir"): (KnownPrice(Decimal("46.00"), DAY),)},
        suppliers={"weir": "Weir"},
    )
    (line,) = lines_of("P1,Paint,liquid,1,tin,46.00,30")
    assert compare([replace(line, code="P1", supplier_code="")], catalogue, currency="GBP").changes_nothing


@given(
    litres=st.decimals("0.1", "25", places=2),
    covers=st.decimals("1", "200", places=1),
    pack=st.sampled_from(["tin", "tub", "can"]),
)
def test_a_tin_covers_the_same_however_its_litres_are_said(
    litres: Decimal, covers: Decimal, pack: str
) -> None:
    by_name = found(f"P1,Paint {litres} litre,liquid,,{pack},46.00,{covers}")
    by_pack = found(f"P1,Paint,liquid,{litres} l,{pack},46.00,{covers}")
    assert by_name.new_sizes == by_pack.new_sizes == [("P1", (0, 0, litres))]
    for comparison in (by_name, by_pack):
        a_litre = dict(comparison.new_materials["P1"].details)["coverage_m2"]
        assert abs(a_litre * litres - covers) <= litres * Decimal("0.0001")
