"""Files as they come from suppliers, and files that are no list at all."""

from __future__ import annotations

import io
import zipfile
from decimal import Decimal
from typing import Any

import openpyxl
import pytest

from materials.pricelist.columns import Column, find_heads
from materials.pricelist.read import read_table
from materials.pricelist.table import MOST_BYTES, MOST_ROWS, UnreadableFileError, pack, unpack

ROWS = [["Code", "Näme", "Price"], ["A1", "Eiche, geölt", "12,50"], ["A2", "Ash", "3,20"]]


def as_csv(mark: str) -> str:
    return "\r\n".join(mark.join(f'"{cell}"' if mark in cell else cell for cell in row) for row in ROWS)


def workbook(rows: list[list[Any]], *, before: list[list[Any]] | None = None, merge: str = "") -> bytes:
    book = openpyxl.Workbook()
    if before is not None:
        for row in before:
            book.active.append(row)
        sheet = book.create_sheet("Prices")
    else:
        sheet = book.active
    for row in rows:
        sheet.append(row)
    if merge:
        sheet.merge_cells(merge)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
def test_any_usual_encoding_and_mark_reads_the_same(encoding: str, mark: str) -> None:
    table = read_table(as_csv(mark).encode(encoding))
    assert [list(row) for row in table.rows] == ROWS


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"\xef\xbb\xbf \r\n\r\n", "empty"),
        (b"\xff\xfe", "empty"),
        (b"%PDF-1.7 1 0 obj", "PDF"),
        (b"\x89PNG\r\n\x1a\n rest", "picture"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 old", ".xls"),
        (b"code,name\x00\x01\x02,price", "not a CSV"),
        (b"Dear customer,\nwe are sorry\nto say no\nlist is here\n", "only one column"),
        (b"one\ntwo\nthree\n", "only one column"),
        (b'code,name,price\nA1,"Ash,3.20\nA2,Oak,4.10\n', "quotation mark"),
        (b"PK\x03\x04 but not a zip", "damaged"),
        (b"x" * (MOST_BYTES + 1), "MB"),
    ],
    ids=[
        "nothing",
        "blank",
        "bom",
        "pdf",
        "png",
        "xls",
        "binary",
        "letter",
        "words",
        "quote",
        "zip",
        "large",
    ],
)
def test_what_is_no_list_is_refused_in_words(content: bytes, words: str) -> None:
    with pytest.raises(UnreadableFileError, match=words):
        read_table(content)


def test_a_zip_of_something_else_is_no_workbook() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("letter.txt", "hello")
    with pytest.raises(UnreadableFileError, match="not an XLSX"):
        read_table(out.getvalue())


def test_a_workbook_that_breaks_off_is_damaged() -> None:
    whole = workbook(ROWS)
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(whole)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            new.writestr(name, part[: len(part) // 2] if "sheet" in name else part)
    with pytest.raises(UnreadableFileError, match="damaged"):
        read_table(out.getvalue())


def test_too_many_rows_and_columns_are_refused() -> None:
    with pytest.raises(UnreadableFileError, match="rows"):
        read_table(b"a,b\n" * (MOST_ROWS + 1))
    with pytest.raises(UnreadableFileError, match="columns"):
        read_table((",".join("x" * 80) + "\n").encode() * 3)


def test_blank_rows_count_so_that_row_numbers_are_the_spreadsheets() -> None:
    table = read_table(b"code,price\n\nA1,2.50\n")
    assert table.rows[2] == ("A1", "2.50")


def test_a_line_that_names_the_mark_is_obeyed() -> None:
    table = read_table(b"sep=;\nname;price\nAsh, planed, fine;2.50\n")
    assert table.rows == ((), ("name", "price"), ("Ash, planed, fine", "2.50"))


def test_a_workbooks_numbers_stay_numbers_and_its_formulas_text() -> None:
    table = read_table(workbook([["Code", "Price"], ["A1", 12.1], ["A2", "=1+1"], ["A3", 7]]))
    assert [row[1] for row in table.rows] == ["Price", Decimal("12.1"), "=1+1", Decimal(7)]


def test_the_fullest_sheet_is_read_unless_another_is_named() -> None:
    content = workbook(ROWS, before=[["Read me first"]])
    assert read_table(content).sheet == "Prices"
    assert read_table(content, sheet="Sheet").rows == (("Read me first",),)
    with pytest.raises(UnreadableFileError, match="no sheet “Nowhere”"):
        read_table(content, sheet="Nowhere")


def test_an_empty_sheet_says_so() -> None:
    with pytest.raises(UnreadableFileError, match="empty"):
        read_table(workbook([]))


def test_a_table_comes_out_as_it_was_packed() -> None:
    table = read_table(workbook([["Code", "Price"], ["A1", 12.1]]))
    assert unpack(pack(table)) == table


def test_heads_are_found_below_a_title_and_through_merged_cells() -> None:
    rows = [
        ["Spring list, trade prices", None, None, None, None],
        [],
        ["Item", "Description", "Size", None, "Price"],
        [None, None, "Length", "Width", None],
        ["P1", "Birch ply", 2440, 1220, 60.4],
    ]
    table = read_table(workbook(rows, merge="C3:D3"))
    heads = find_heads(table)
    assert heads.names == ("Item", "Description", "Size Length", "Size Width", "Price")
    assert heads.first_row == 4
    assert list(heads.guess().values()) == [
        Column.SUPPLIER_CODE,
        Column.NAME,
        Column.LENGTH,
        Column.WIDTH,
        Column.PRICE,
    ]


def test_in_one_suppliers_list_a_bare_code_is_the_suppliers() -> None:
    heads = find_heads(read_table(b"Code,Name,Price\nA1,Ash,2\n"))
    assert heads.guess()[0] is Column.CODE
    assert heads.guess(of_one_supplier=True)[0] is Column.SUPPLIER_CODE
