"""Rows of a list: numbers as they are written, and reasons why a row is not taken."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.lengths import System
from jobs.money import format_number
from materials.pricelist.line import Line, Problem
from materials.pricelist.numbers import COMMA, POINT, NumberError, decimal_mark_of, read_number
from materials.pricelist.read import read_table
from materials.pricelist.reading import Reading, as_kept, first_reading, from_kept
from materials.pricelist.rows import read_date, read_rows


@pytest.mark.parametrize(
    ("text", "mark", "number"),
    [
        ("12.50", POINT, "12.50"),
        ("12,50", COMMA, "12.50"),
        ("£1,234.50", POINT, "1234.50"),
        ("1.234,50 €", COMMA, "1234.50"),
        ("1 234,50", COMMA, "1234.50"),
        ("1\u00a0234,50", COMMA, "1234.50"),
        ("1'234.50", POINT, "1234.50"),
        ("EUR 12,5", COMMA, "12.5"),
        ("12.50 GBP", POINT, "12.50"),
        ("1,234", POINT, "1234"),
        ("1,234", COMMA, "1.234"),
        (".5", POINT, "0.5"),
        ("0", POINT, "0"),
        ("7", COMMA, "7"),
    ],
)
def test_numbers_as_they_are_written(text: str, mark: str, number: str) -> None:
    assert read_number(text, mark) == Decimal(number)


@pytest.mark.parametrize(
    ("text", "mark", "words"),
    [
        ("12,50", POINT, "does not fit"),
        ("12.50", COMMA, "does not fit"),
        ("POA", POINT, "not a number"),
        ("1,23,456.00", POINT, "not a number"),
        ("-3", POINT, "below nothing"),
        ("(3.00)", POINT, "below nothing"),
        ("=A2*2", POINT, "formula"),
        ("99999999999", POINT, "too large"),
        ("", POINT, "not a number"),
        ("£", POINT, "not a number"),
        ("1e5", POINT, "not a number"),
        ("nan", POINT, "not a number"),
    ],
)
def test_what_is_no_number_says_why(text: str, mark: str, words: str) -> None:
    with pytest.raises(NumberError, match=words):
        read_number(text, mark)


@given(
    st.decimals(0, 10**8, places=2), st.sampled_from([("en_GB", POINT), ("de_DE", COMMA), ("fr_FR", COMMA)])
)
def test_a_price_written_in_any_locale_reads_back_to_the_penny(amount: Decimal, how: tuple[str, str]) -> None:
    locale, mark = how
    assert read_number(format_number(amount, locale, 2), mark) == amount


@pytest.mark.parametrize(
    ("cells", "mark"),
    [
        (["12,50", "1.234,00"], COMMA),
        (["12.50", "1,234.00"], POINT),
        (["1,234", "2,345"], POINT),
        (["1.234,5", "7", "3"], COMMA),
        ([], POINT),
    ],
)
def test_the_decimal_mark_is_told_by_what_can_be_read_one_way(cells: list[str], mark: str) -> None:
    assert decimal_mark_of(cells) == mark


def read(text: str, **how: Any) -> tuple[list[Line], list[Problem]]:
    table = read_table(text.encode())
    start = first_reading(
        table,
        today=date(2026, 11, 25),
        supplier="Weir Timber",
        usual_mark=POINT,
        system=System.METRIC,
        month_first=False,
    )
    reading = Reading(**{**vars(start), **how})
    assert from_kept(as_kept(reading)) == reading
    return read_rows(table, reading.heads(table), reading)


def test_a_board_and_a_sheet() -> None:
    lines, problems = read(
        "Code,Name,Kind,Thickness,Width,Length,Price\n"
        "B1,Ash,board,20,120,2.4 m,21.42\nS1,Birch ply,sheet,12,1220,2440,60.40\n"
    )
    assert problems == []
    board, sheet = lines
    assert (board.length_mm10, board.width_mm10, dict(board.details)["width_mm10"]) == (24000, None, 1200)
    assert (sheet.length_mm10, sheet.width_mm10) == (24400, 12200)
    assert "width_mm10" not in dict(sheet.details)


@pytest.mark.parametrize("size", ["2440 x 1220", "2440×1220mm", "2440 * 1220 * 12", "2.44 m x 1.22 m"])
def test_a_size_in_one_cell_keeps_its_order(size: str) -> None:
    (line,), problems = read(f"Code,Name,Kind,Size,Price\nS1,Ply,sheet,{size},60.40\n")
    assert (problems, line.length_mm10, line.width_mm10) == ([], 24400, 12200)


def test_every_fault_of_a_row_is_told_with_its_row_and_column() -> None:
    lines, problems = read(
        "Code,Name,Kind,Length,Price,Price from\nB1,Ash,board,2400,12.50,2026-09-01\n"
        "B2,Oak,wood,two metres,POA,31/02/2026\n"
    )
    assert [line.supplier_code for line in lines] == ["B1"]
    assert [(one.row, one.column) for one in problems] == [
        (3, "Length"),
        (3, "Kind"),
        (3, "Price"),
        (3, "Price from"),
    ]


def test_group_titles_and_blank_rows_are_passed_over_but_a_bare_price_is_not() -> None:
    lines, problems = read("Code,Name,Kind,Price\nBOARDS,,,\n\nB1,Ash,board,12.50\n,,,3.00\n")
    assert len(lines) == 1
    assert [(one.row, one.reason) for one in problems] == [(5, "There is no code and no name.")]


def test_lengths_in_metres_are_read_so_when_the_owner_says_so() -> None:
    text = "Code;Name;Kind;Length;Price\nB1;Ash;board;2,4;12,50\nB2;Ash;board;3;15,00\n"
    assert read(text)[1][0].reason.startswith("A stock length under 50 mm")
    lines, problems = read(text, length_unit="m")
    assert (problems, [line.length_mm10 for line in lines]) == ([], [24000, 30000])


def test_a_price_without_a_supplier_is_refused() -> None:
    (problem,) = read("Code,Name,Kind,Price\nB1,Ash,board,12.50\n", supplier="")[1]
    assert problem == Problem(2, "Supplier", "There is a price, but no supplier: name one above.")


def test_words_that_are_too_long_are_refused_not_cut() -> None:
    (problem,) = read(f"Code,Name,Kind,Price\nB1,{'x' * 161},board,12.50\n")[1]
    assert problem == Problem(2, "Name", "is longer than 160 letters.")


@pytest.mark.parametrize(
    ("text", "month_first", "day"),
    [
        ("2026-03-01", False, date(2026, 3, 1)),
        ("01/03/2026", False, date(2026, 3, 1)),
        ("03/01/2026", True, date(2026, 3, 1)),
        ("1.3.26", False, date(2026, 3, 1)),
        ("2026-03-01 00:00:00", False, date(2026, 3, 1)),
    ],
)
def test_dates(text: str, month_first: bool, day: date) -> None:
    assert read_date(text, month_first=month_first) == day
