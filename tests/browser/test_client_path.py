"""A client's way in a real browser: open the link, pick, ask, accept; and every page a link can show."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from quotes.models import Decision, Quote
from quotes.services import drafting, issuing, links
from tests import make
from tests.browser.conftest import DESK, PHONE, SMALL_PHONE
from tests.pictures import picture

pytestmark = pytest.mark.browser


def draft(**fields):
    """Oak lining at 200.00, and brass knobs at 50.00 if wanted, with payment stages."""
    stages = [{"percent": "40", "title": "Deposit"}, {"percent": "60", "title": "At handover"}]
    made = make.quote(title="Shepherd’s hut, lining", payment_stages=stages, **fields)
    make.quote_line(200, quote=made, description="Oak lining")
    make.quote_line(50, quote=made, description="Brass knobs", optional=True)
    return made


def address(quote):
    return reverse("quotes:link", args=[make.link_to(quote)])


@pytest.mark.parametrize(("size", "dark"), [(DESK, False), (PHONE, True)], ids=["desk light", "phone dark"])
def test_a_client_picks_an_extra_asks_and_accepts(size, dark, owner, open_page, amiss):
    quote = issuing.issue(quote=draft(), person=owner)
    page = open_page(size=size, dark=dark)
    page.goto(address(quote))
    assert amiss(page) == []
    page.get_by_label("Brass knobs").check()
    page.get_by_role("cell", name="£300.00").wait_for()
    expect(page.locator("#totals").get_by_text("£120.00")).to_be_visible()  # the deposit follows
    page.get_by_label("Your question").fill("Can the knobs be smaller?")
    page.get_by_role("button", name="Ask").click()
    expect(page.get_by_text("Can the knobs be smaller?")).to_be_visible()
    page.get_by_label("Brass knobs").check()
    page.get_by_role("button", name="Accept").click()
    expect(page.get_by_text("Please type your name.")).to_be_visible()
    expect(page.get_by_label("Brass knobs")).to_be_checked()
    assert amiss(page) == []
    page.locator("#answer").get_by_label("Your name").fill("Agnes Hollin")
    page.get_by_label("I have read it and agree to it").check()
    page.get_by_role("button", name="Accept").click()
    page.get_by_text("Thank you").wait_for()
    assert amiss(page) == []
    assert Decimal(Decision.objects.get().totals["with_tax"]) == 300


@pytest.mark.parametrize(("size", "dark"), [(DESK, True), (SMALL_PHONE, False)], ids=["desk dark", "360 px"])
def test_every_page_a_link_can_show(size, dark, owner, open_page, amiss):
    first = issuing.issue(quote=draft(), person=owner)
    old = address(first)
    later = issuing.issue(quote=drafting.revise(quote=first, person=owner), person=owner)
    lapsed = issuing.issue(quote=draft(), person=owner)
    Quote.objects.filter(pk=lapsed.pk).update(valid_until=timezone.localdate() - timedelta(days=1))
    declined, shut = make.answer(says="declined").quote, make.issued_quote()
    shut_address = address(shut)
    links.withdraw_links(quote=shut, person=owner)
    page = open_page(size=size, dark=dark)
    for where, words in [
        (old, "It was replaced by revision 2"),
        (address(lapsed), "The offer lapsed on"),
        (address(declined), "Declined by Cleo Client"),
        (shut_address, "This link opens nothing"),
    ]:
        page.goto(where)
        expect(page.get_by_text(words).first).to_be_visible()
        expect(page.get_by_role("button", name="Accept")).to_have_count(0)
        assert (words, amiss(page)) == (words, [])
    page.goto(address(first))
    page.get_by_role("link", name="revision 2").click()
    expect(page.get_by_text(f"{later.number}, revision 2")).to_be_visible()
    expect(page.get_by_role("button", name="Accept")).to_be_visible()


def test_the_client_s_view_follows_each_edit_on_the_desk(owner, open_page, amiss):
    quote = draft()
    page = open_page(owner)
    page.goto(reverse("quotes:desk", args=[quote.pk]))
    view = page.locator("#client-view")
    assert amiss(page) == []
    view.get_by_role("link", name="a price for each phase").click()
    view.get_by_text("Oak lining").wait_for(state="detached")
    page.get_by_role("link", name="Change Oak lining").click()
    page.get_by_label("Cost of one").fill("300")
    page.get_by_role("button", name="Save the line").click()
    view.get_by_text("£360.00").wait_for()
    expect(view.get_by_text("Oak lining")).to_have_count(0)
    page.set_viewport_size(PHONE)
    assert amiss(page) == []
    assert view.bounding_box()["y"] > page.locator(".working").bounding_box()["y"]


def test_a_change_is_written_down_on_the_phone_with_its_picture(maker, open_page, amiss):
    job = make.contract(1000)
    page = open_page(maker, size=PHONE)
    page.goto(reverse("quotes:raise_change", args=[job.pk]))
    assert amiss(page) == []
    page.get_by_label("What", exact=True).fill("A hatch above the bunk")
    shot = {"name": "phone.jpg", "mimeType": "image/jpeg", "buffer": picture(400, 300)}
    page.get_by_label("Picture", exact=False).first.set_input_files(shot)
    page.get_by_label("The client may see the picture").check()
    page.get_by_role("button", name="Write it down").click()
    shown = page.get_by_alt_text("Picture taken for the change")
    shown.wait_for()
    assert shown.evaluate("image => image.naturalWidth") == 400
    assert amiss(page) == []
