"""Two revisions side by side: what differs, and that the differences add up to that of the totals."""

from __future__ import annotations

from decimal import Decimal

import pytest

from quotes.queries.compare import compare_with_earlier
from quotes.services import drafting, issuing
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


@pytest.fixture
def revision(owner):
    draft = make.quote(discount_percent=Decimal(10))
    for words, cost in [("Oak", 100), ("Ash", 50), ("Elm", 30)]:
        make.quote_line(cost, quote=draft, description=words)
    make.quote_line(20, quote=draft, description="Knobs", optional=True)
    return drafting.revise(quote=issuing.issue(quote=draft, person=owner), person=owner)


def adds_up(page):
    whole = sum((line.difference for line in page.lines), Decimal(0)) + page.discount_difference
    return whole == page.difference


def test_a_copy_differs_in_nothing(revision):
    page = compare_with_earlier(revision)
    assert (page.lines, page.difference) == ((), 0)


def test_changed_added_and_taken_off(revision):
    revision.lines.filter(description="Oak").update(unit_cost=Decimal(120))
    revision.lines.filter(description="Ash").delete()
    make.quote_line(5, quote=revision, description="Pine")
    page = compare_with_earlier(revision)
    assert {line.description: line.difference for line in page.lines} == {"Oak": 20, "Ash": -50, "Pine": 5}
    assert page.difference == Decimal("-22.50")
    assert adds_up(page)


def test_an_extra_is_listed_and_moves_no_total(revision):
    revision.lines.filter(description="Knobs").update(unit_cost=Decimal(25))
    make.quote_line(40, quote=revision, description="Rail", optional=True)
    page = compare_with_earlier(revision)
    assert {line.description: line.difference for line in page.lines} == {"Knobs": 0, "Rail": 0}
    assert page.difference == 0


def test_an_extra_that_becomes_part_of_the_price_adds_it(revision):
    revision.lines.filter(description="Knobs").update(optional=False)
    page = compare_with_earlier(revision)
    assert [line.difference for line in page.lines] == [20]
    assert adds_up(page)


def test_a_discount_given_meanwhile_has_its_own_row(revision):
    revision.discount_percent = Decimal(0)
    page = compare_with_earlier(revision)
    assert (page.lines, page.discount_difference, page.difference) == ((), 18, 18)
    assert adds_up(page)
