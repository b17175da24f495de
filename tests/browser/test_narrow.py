"""On a phone nothing that matters stands beside the page: figures by their heads, words under their rows."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from django.urls import reverse
from playwright.sync_api import expect

from tests import make
from tests.browser.conftest import DESK, PHONE, off_the_page

pytestmark = pytest.mark.browser
HIDDEN_BESIDE = """() => [...document.querySelectorAll(".scroll")]
    .filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.getAttribute("aria-label"))"""


@pytest.mark.parametrize(
    ("address", "last"),
    [
        ("/jobs/{}/progress/", "variance"),
        ("/jobs/{}/look-back/", "cost variance"),
        ("/jobs/all/", "on price"),
        ("/sheets/", "week"),
    ],
)
def test_all_figures_of_a_row_stand_on_the_page(address, last, owner, open_page):
    phase = make.phase(job=make.job(state="bench"))
    make.budget(phase=phase)
    make.hours(phase=phase, person=owner)
    page = open_page(owner, size=PHONE)
    page.goto(address.format(phase.job_id))
    assert page.evaluate(HIDDEN_BESIDE) == []
    expect(page.locator(f"td[data-th='{last}']").first).to_be_in_viewport(ratio=1)


def test_a_delivery_refused_says_so_under_its_row(owner, open_page, amiss):
    order = make.order(state="placed")
    page = open_page(owner, size=PHONE)
    page.goto(reverse("materials:order-receive", args=[order.pk]))
    page.locator(".draft-lines input.figure, .draft-lines input[type=number]").first.fill("9999")
    page.get_by_role("button", name="Book it in").click()
    expect(page.locator(".draft-lines .amiss").first).to_be_visible()
    assert amiss(page) == []


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_columns_of_a_price_list_can_be_read_where_they_are_chosen(size, owner, open_page, amiss):
    browser = Browser()
    browser.force_login(owner)
    file = SimpleUploadedFile(
        "list.csv", b"Code,Description,Unit,Price\nB-1,Redwood tongue and groove,m,4.20\n"
    )
    sent = browser.post(reverse("materials:price-list-new"), {"file": file})
    page = open_page(owner, size=size)
    page.goto(sent.url)
    assert page.evaluate(HIDDEN_BESIDE) == []
    wanted = page.get_by_label("Kind of new rows that name none")
    assert wanted.bounding_box()["width"] > 200  # as wide as "none: the row must say"
    assert amiss(page) == []


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_what_is_amiss_in_a_row_of_measures_stands_under_the_row(size, maker, open_page, amiss):
    phase = make.phase()
    page = open_page(maker, size=size)
    page.goto(reverse("materials:takeoff-new", args=[phase.pk, "framing"]))
    page.fill("[name=openings-0-name]", "Window")
    page.fill("[name=openings-0-height]", "abc")
    page.get_by_role("button", name="Add to the take-off").click()
    said = page.get_by_text("Height: “abc” is not a length")
    expect(said).to_be_visible()
    field, beside = page.locator("[name=openings-0-height]"), page.locator("[name=openings-0-clearance]")
    assert said.bounding_box()["y"] > field.bounding_box()["y"]
    assert field.bounding_box()["y"] == beside.bounding_box()["y"]
    assert "is not a length" in field.evaluate(
        "one => document.getElementById(one.getAttribute('aria-describedby').split(' ').pop()).textContent"
    )
    assert amiss(page) == []


def test_parts_of_a_sheet_take_one_line_at_the_desk(maker, open_page):
    page = open_page(maker, size=DESK)
    page.goto(reverse("materials:takeoff-new", args=[make.phase().pk, "sheet_parts"]))
    first = page.locator("fieldset.rows li").first
    tops = {box.bounding_box()["y"] for box in first.locator("input, select").all()}
    assert max(tops) - min(tops) < 3


def test_the_desk_tells_quantities_on_a_phone(owner, open_page):
    line = make.quote_line()
    page = open_page(owner, size=PHONE)
    page.goto(line.quote.get_absolute_url())
    expect(page.locator(".desk td.amount").first).to_be_visible()
    assert off_the_page(page) == []


def test_a_price_can_be_removed_on_a_phone(owner, open_page):
    price = make.price()
    page = open_page(owner, size=PHONE)
    page.goto(price.size.material.get_absolute_url())
    expect(page.get_by_role("button", name="Remove the price").first).to_be_visible()


def test_the_strip_of_the_desk_is_as_wide_as_its_page(owner, open_page):
    page = open_page(owner, size={"width": 1280, "height": 900})
    page.goto(make.quote_line().quote.get_absolute_url())
    mark, head = page.locator(".strip .mark"), page.locator("main h1")
    assert mark.bounding_box()["x"] == head.bounding_box()["x"]


@pytest.mark.parametrize(
    ("size", "rules"), [(DESK, ["solid", "double"]), (PHONE, ["none", "none"])], ids=["desk", "phone"]
)
def test_only_the_sum_of_an_invoice_stands_over_a_double_rule(size, rules, owner, open_page):
    """On a phone the rule is the row's: its figures have none of their own."""
    page = open_page(owner, size=size)
    page.goto(make.invoice().get_absolute_url())
    cells = page.locator("tfoot td.n")
    assert [cell.evaluate("one => getComputedStyle(one).borderBottomStyle") for cell in cells.all()] == rules
