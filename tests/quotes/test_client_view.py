"""The client's view beside the editor: follows each edit at each level of detail, with no cost or margin."""

from __future__ import annotations

import pytest
from django.urls import reverse

from quotes.models import Quote
from tests import make
from tests.checks import says

HTMX = {"HX-Request": "true"}


@pytest.fixture
def quote(workshop):
    draft = make.quote(title="Hut", profit={"material": {"basis": "margin", "percent": "20"}})
    make.quote_line(100, quote=draft, description="Oak board")
    return draft


def seen(answer):
    """The client's view alone, cut out of the desk."""
    page = answer.content.decode()
    return page[page.index('id="client-view"') :]


def desk(quote, **query):
    return reverse("quotes:desk", args=[quote.pk], query=query)


@pytest.mark.parametrize(
    ("level", "there", "not_there"),
    [
        ("items", ["Oak board", "£125.00"], []),
        ("phases", ["£125.00"], ["Oak board"]),
        ("one_sum", ["What the price covers", "£150.00"], ["Oak board"]),
    ],
)
def test_each_level_shows_its_share_of_the_same_figures(as_owner, quote, level, there, not_there):
    view = seen(as_owner.get(desk(quote, **{"as": level})))
    assert all(words in view for words in [*there, "£125.00", "£150.00"])
    assert not any(words in view for words in not_there)


@pytest.mark.parametrize("level", ["items", "phases", "one_sum"])
def test_neither_cost_nor_margin_is_in_it(as_owner, quote, level):
    page = as_owner.get(desk(quote, **{"as": level}))
    assert says(page, "£100.00", "margin 20")  # the desk itself says both
    assert "£100.00" not in seen(page)
    assert "margin" not in seen(page)


def test_a_level_that_is_none_shows_what_goes_out(as_owner, quote):
    Quote.objects.update(detail="phases")
    assert "Oak board" not in seen(as_owner.get(desk(quote, **{"as": "nonsense"})))


def test_it_follows_an_edit_at_the_level_looked_at(as_owner, quote):
    line = reverse("quotes:line", args=[quote.lines.get().pk])
    form = {"kind": "material", "description": "Ash board", "quantity": "1", "unit_cost": "200",
            "discount_percent": "0", "mass_kg": "0", "tax_name": "Standard", "version": "1"}  # fmt: skip
    here = {**HTMX, "HX-Current-URL": f"http://testserver{desk(quote, **{'as': 'phases'})}"}
    view = seen(as_owner.post(line, form, headers=here))
    assert "£250.00" in view
    assert "Ash board" not in view
    assert "Ash board" in seen(as_owner.get(desk(quote)))


def test_an_issued_quote_shows_what_was_issued(as_owner, workshop):
    quote = make.issued_quote(100)
    Quote.objects.update(title="Renamed since")
    assert "<h3>A quote</h3>" in seen(as_owner.get(desk(quote)))


def test_there_is_none_where_the_quote_has_no_price(as_owner, quote):
    quote.lines.update(tax_name="Never heard of")
    page = as_owner.get(desk(quote))
    assert page.status_code == 200
    assert "client-view" not in page.content.decode()
