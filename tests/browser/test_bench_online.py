"""The bench on a phone with a signal: how many taps, how large a target, and what the page then says."""

from __future__ import annotations

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from jobs.models import CostEntry, Note, TimeEntry
from tests import make
from tests.browser.conftest import PHONE, SMALL_PHONE
from tests.pictures import picture

pytestmark = pytest.mark.browser
PAGES = ["/bench/", "/bench/hours/", "/bench/cost/", "/bench/note/", "/bench/queue/"]


@pytest.fixture
def hut(workshop):
    job = make.job(state="bench", title="Shepherd's hut, Lower Field")
    phases = {
        title: make.phase(job=job, title=title, position=at) for at, title in enumerate(["Bunk", "Floor"])
    }
    make.phase(job=make.job(state="won", title="Alcove bookcase"), title="Shelves")
    return phases


@pytest.fixture
def bench(maker, hut, open_page):
    page = open_page(maker, size=PHONE, has_touch=True)
    page.goto("/bench/")
    return page


def sent(page):
    """Wait until nothing waits on the phone."""
    page.locator("#waiting").wait_for(state="hidden")


def entries():
    return list(TimeEntry.objects.order_by("pk").values_list("phase__title", "seconds"))


def test_two_taps_start_one_switches_one_stops(bench, hut):
    bench.locator("summary", has_text="Shepherd").tap()
    bench.get_by_role("button", name="Bunk").tap()
    bench.locator("#running", has_text="Bunk").get_by_text("0:00").wait_for()
    sent(bench)
    assert entries() == [("Bunk", None)]
    bench.locator("summary", has_text="Shepherd").tap()
    bench.get_by_role("button", name="Floor").tap()
    bench.locator("#running", has_text="Floor").wait_for()
    sent(bench)
    assert entries() == [("Bunk", 0), ("Floor", None)]
    bench.get_by_role("button", name="Stop").tap()
    bench.get_by_text("No timer runs").wait_for()
    sent(bench)
    assert entries() == [("Bunk", 0), ("Floor", 0)]


def test_one_tap_starts_what_was_worked_on_last(bench, maker, hut):
    for phase in ("Floor", "Bunk"):
        make.hours(person=maker, phase=hut[phase], on_date=timezone.localdate())
    bench.reload()
    bench.get_by_role("button", name="Bunk").tap()
    bench.locator("#running", has_text="Bunk").wait_for()


def test_hours_are_picked_without_typing(bench, hut):
    bench.get_by_role("link", name="Hours").tap()
    bench.get_by_label("Phase").select_option(str(hut["Floor"].pk))
    bench.get_by_text("2", exact=True).tap()
    bench.get_by_role("button", name="Log").tap()
    bench.get_by_text("Floor: 2:00 h.").wait_for()
    assert entries() == [("Floor", 7200)]


def test_what_is_amiss_stands_beside_the_field_and_what_was_typed_stays(bench):
    bench.get_by_role("link", name="Hours").tap()
    bench.get_by_label("or typed").fill("all day")
    bench.get_by_role("button", name="Log").tap()
    bench.locator(".field.wrong .amiss", has_text="write 7.5, 7:20 or 45 min").wait_for()
    expect(bench.get_by_label("or typed")).to_have_value("all day")
    bench.get_by_role("link", name="Timer").tap()
    bench.wait_for_url("**/bench/")  # a page that is closed on its way to the next can hang
    expect(bench.locator("#waiting")).to_be_hidden()


def test_a_receipt_with_its_picture(bench, hut):
    bench.get_by_role("link", name="Cost").tap()
    bench.get_by_label("Phase").select_option(str(hut["Floor"].pk))
    bench.get_by_label("Paid, with tax").fill("120")
    bench.get_by_label("Picture").set_input_files(
        {"name": "IMG_1.JPG", "mimeType": "image/jpeg", "buffer": picture(3000, 2000)}
    )
    bench.get_by_role("button", name="Log").tap()
    bench.get_by_text("£120.00 on Floor.").wait_for()
    cost = CostEntry.objects.select_related("photo").get()
    assert (cost.net, cost.tax, cost.photo.width) == (100, 20, 1600)


def test_a_note(bench, hut):
    bench.get_by_role("link", name="Note").tap()
    bench.get_by_label("Note").fill("Floor is 12 mm out of level")
    bench.get_by_role("button", name="Save the note").tap()
    bench.locator(".said").wait_for()
    assert Note.objects.get().text == "Floor is 12 mm out of level"


@pytest.mark.parametrize("size", [PHONE, SMALL_PHONE], ids=["390", "360"])
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_nothing_amiss_and_every_target_large_enough(size, dark, maker, hut, open_page, amiss):
    make.change(job=hut["Bunk"].job, title="Window seat")
    page = open_page(maker, size=size, dark=dark)
    for address in PAGES:
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach((one) => (one.open = true))")
        assert amiss(page) == [], address
        assert page.evaluate(SMALL_TARGETS) == [], address


SMALL_TARGETS = """
[...document.querySelectorAll("a, button, summary, select, input:not([type=hidden]), textarea")]
  .filter((one) => one.checkVisibility() && !one.matches(".skip"))
  .map((one) => [one, (one.closest("fieldset label") || one).getBoundingClientRect()])
  .filter(([one, box]) => box.height < 48 || box.width < 48)
  .map(([one, box]) => `${one.outerHTML.slice(0, 80)} ${Math.round(box.width)}x${Math.round(box.height)}`)
"""
