"""Where a paper breaks over pages: its totals stay whole, under the last line they add up."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from pypdf import PdfReader

from jobs.paper_pdf import draw_pdf
from quotes.papers.drawing import paper_html
from quotes.papers.paper import Letterhead, Paper, PaperChange, PaperLine, PaperPhase, PaperTax

PRICE = Decimal("10.00")


def paper_of(lines, size, terms=""):
    """A quote of one phase with so many lines and nothing but terms after its totals."""
    rows = tuple(
        PaperLine(str(at), f"Line {at};", Decimal(1), "each", PRICE, "", "", "") for at in range(lines)
    )
    whole = PRICE * lines
    return Paper(
        number="Q26-001", revision=1, title="Hut", introduction="", detail="items", dated=date(2026, 6, 1),
        valid_until=date(2026, 7, 1), currency="GBP", locale="en_GB", paper_size=size,
        letterhead=Letterhead("Alderbeck Joinery", "The Old Forge\nMill Lane", "", "", "", "", "", ""),
        client_name="Hollin Farm", client_address="Upper Dale", job_number="26-001", job_title="Hut", site="",
        phases=(PaperPhase("Lining", whole, rows),), options=(), lines_total=whole, discount=Decimal(0),
        without_tax=whole, taxes=(PaperTax("20 %", whole, whole / 5, ""),), tax=whole / 5,
        with_tax=whole * 6 / 5, stages=(), sums_note="", exclusions=(), cautions=(), terms=terms,
        right_to_cancel="", change=None,
    )  # fmt: skip


def pages_of(lines, size, terms=""):
    pdf = draw_pdf(paper_html(paper_of(lines, size, terms)))
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize("size", ["A4", "letter"])
def test_totals_stay_whole_under_their_last_line(size):
    """At every number of lines from well within the page to well over it."""
    counts = set()
    for lines in range(12, 24, 3):  # a table of totals is as high as four lines: one of these would cut it
        pages = pages_of(lines, size)
        (foot,) = [page for page in pages if "Total" in page]
        assert all(words in foot for words in ("The price", "Price without tax", f"Line {lines - 1};"))
        counts.add(len(pages))
    assert counts == {1, 2}


def test_a_change_order_breaks_between_its_price_and_what_it_moves():
    """The price stays under its last line; the contract sums go over and leave no third of a page blank."""
    change = PaperChange(1, "A shelf", "", PRICE, Decimal(3), Decimal(1), Decimal(0))
    paper = replace(paper_of(16, "A4"), change=change)
    first, second = (page.extract_text() for page in PdfReader(io.BytesIO(draw_pdf(paper_html(paper)))).pages)
    assert "Effect with tax" in first
    assert "Contract sum before" in second


def test_the_small_print_never_stands_on_a_page_alone():
    counts = set()
    for lines in range(9, 18):
        pages = pages_of(lines, "A4", terms="Prices hold for the time stated.")
        assert "fixed price" in pages[-1]
        assert "Prices hold" in pages[-1]
        counts.add(len(pages))
    assert counts == {1, 2}


def test_heads_repeat_and_pages_are_counted():
    pages = pages_of(60, "A4")
    for at, page in enumerate(pages[:2], start=1):
        assert "Work and materials" in page
        assert f"page {at} of {len(pages)}" in page
