"""What stands on a paper only where there is something to say, and covers nothing else."""

from __future__ import annotations

import io
from dataclasses import replace
from decimal import Decimal

import pytest
from django.template.loader import render_to_string
from pypdf import PdfReader

from jobs.paper_pdf import draw_pdf
from quotes.papers.drawing import paper_html
from quotes.papers.paper import PaperLine
from quotes.templatetags.papers import trade_unit
from tests.quotes.test_paper_breaks import paper_of

EXTRA = PaperLine("1", "Fold-down table", None, "", Decimal("145.71"), "", "", "")


@pytest.mark.parametrize(
    ("registration", "tax", "words"),
    [
        ("", "", ""),
        ("99", "", "Registration 99"),
        ("", "123", "Tax number 123"),
        ("99", "123", "Registration 99 · Tax number 123"),
    ],
)
def test_numbers_stand_with_a_dot_between_two_of_them_alone(registration, tax, words):
    letter = {"registration_number": registration, "tax_number": tax}
    html = render_to_string("papers/parts/numbers.html", {"letter": letter})
    assert html.strip() == (f'<p class="numbers">{words}</p>' if words else "")


def test_a_draft_says_so_above_the_address_and_over_none_of_it():
    pdf = draw_pdf(paper_html(paper_of(1, "A4"), draft=True))
    heights = {}

    def note(text, _current, matrix, _font, _size):
        heights.setdefault(text.strip(), matrix[5])

    text = PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=note)
    assert text.index("not issued") < text.index("The Old Forge")
    draft, address = heights["Draft, not issued"], heights["The Old Forge"]
    assert abs(draft - address) > 11  # points: the height of its letters


def test_extras_have_columns_for_quantities_only_where_one_has_a_quantity():
    bare = replace(paper_of(1, "A4"), options=(EXTRA, EXTRA))
    counted = replace(bare, options=(EXTRA, replace(EXTRA, quantity=Decimal(2), unit="each")))
    assert paper_html(bare).count("Quantity") == paper_html(counted).count("Quantity") - 1


def test_the_trade_counts_in_numbers():
    assert [trade_unit(unit) for unit in ("each", "m²", "")] == ["No.", "m²", ""]
    assert "No.</td>" in paper_html(paper_of(1, "A4"))
