"""One job through the whole of Kerfbook in a real browser, from an empty workshop to the margin at the end.

The figures that are expected were worked out by hand; how stands beside each. With KERFBOOK_PICTURES=folder a
picture of every stop on the way is kept there.
"""

from __future__ import annotations

import re

import pytest
from django.conf import settings
from django.core.management import call_command

from jobs.models import Job
from tests.browser.conftest import DESK, PHONE, keep_picture

pytestmark = pytest.mark.browser
PRICE_LIST = settings.BASE_DIR / "materials" / "demo_price_list.csv"
WINDOW = {
    "name": "Window",
    "left": "1200",
    "bottom": "900",
    "width": "800",
    "height": "600",
    "clearance": "5",
}
PASSWORD = "walnut-and-brass-9"


@pytest.fixture
def empty_workshop(live_server, monkeypatch):
    """Set up by the command of README."""
    monkeypatch.setenv("KERFBOOK_OWNER_PASSWORD", PASSWORD)
    who = ["--workshop-name", "Harbour Lane Joinery", "--owner-name", "Ines Calder"]
    call_command("setup", *who, "--owner-email", "ines@example.org", "--no-questions")


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_one_job_from_the_first_measure_to_the_last_margin(size, empty_workshop, open_page, amiss):
    way = Way(open_page(size=size), amiss)
    client = Way(open_page(size=PHONE), amiss)
    set_the_workshop_up(way)
    take_on_the_job(way)
    take_off_the_wall(way)
    boards = plan_the_cutting(way)
    price_it(way, boards)
    client_accepts(client, issue_and_link(way))
    work_at_the_bench(way)
    raise_a_change(way)
    client_accepts(client, issue_and_link(way))
    see_where_it_went(way)
    invoice_the_deposit(way)
    assert way.wrong == client.wrong == []


class Way:
    """A page under way, which notes what is amiss wherever it stops to look."""

    def __init__(self, page, amiss):
        self.page = page
        self.amiss = amiss
        self.wrong = []
        self.stops = 0
        self.job = 0

    def look(self, name):
        self.stops += 1
        self.wrong += [f"{name}: {one}" for one in self.amiss(self.page)]
        keep_picture(self.page, f"{self.stops:02}-{name}")

    def press(self, name):
        self.page.get_by_role("button", name=name, exact=True).first.click()
        self.page.wait_for_load_state()

    def follow(self, name):
        self.page.get_by_role("link", name=name, exact=True).first.click()
        self.page.wait_for_load_state()

    def fill(self, **fields):
        for name, value in fields.items():
            self.page.locator(f"main [name={name.replace('__', '-')}]").fill(value)

    def says(self, *words):
        text = " ".join(self.page.locator("main").inner_text().split())
        missing = [each for each in words if each not in text]
        assert not missing, f"{missing} not in: {text}"


def set_the_workshop_up(way):
    way.page.goto("/")
    way.page.get_by_label("E-mail").fill("ines@example.org")
    way.page.get_by_label("Password").fill(PASSWORD)
    way.press("Log in")
    way.look("empty")
    way.page.goto("/workshop/edit/letterhead/")
    way.fill(tax_number="GB123456789")
    way.press("Save")
    way.follow("Materials")
    way.follow("Price lists")
    way.page.set_input_files("input[type=file]", PRICE_LIST)
    way.press("Read the list")
    way.look("price-list")
    way.press("Write it into the catalogue")
    way.says("First prices 138", "Rows left out 0")


def take_on_the_job(way):
    way.follow("Jobs")
    way.follow("New job")
    way.page.get_by_label("Client", exact=True).fill("Tamsin Oakley")
    way.page.get_by_label("Title").fill("Garden studio, reading nook")
    way.page.get_by_label("Add this client as a new one").check()
    way.press("Add job")
    way.job = Job.objects.get().pk
    way.follow("Add the first phase")
    way.page.get_by_label("Title").fill("Wall lining")
    way.page.get_by_label("dust").check()
    way.press("Add phase")
    way.follow("To the job")
    way.look("job")


def take_off_the_wall(way):
    """3.6 m × 2.15 m less a window of 810 × 610 with its clearance: 7.74 − 0.4941 = 7.2459 m²."""
    way.follow("Take-off")
    way.page.get_by_role("link", name="Wall lining").first.click()
    way.follow("Cladding")
    way.page.locator("select[name=material_key]").select_option(label="Ash, planed")
    way.fill(title="Back wall", outline__width="3.6 m", outline__height="2150")
    way.fill(**{f"openings__0__{name}": value for name, value in WINDOW.items()})
    way.look("cladding")
    way.page.locator("button[value=save]").click()
    way.page.wait_for_load_state()
    way.says("7.74 − 0.4941 = 7.2459 m²", "7.25 m² × 0.8 h × 1 (seen) = 5.8 h")
    way.look("taken-off")


def plan_the_cutting(way):
    """The cost of the boards in the plan, which the quote must repeat."""
    way.page.goto(f"/materials/jobs/{way.job}/plans/")
    way.press("Plan all materials")
    way.look("plan")
    return re.search(r"Together £([\d.]+)", " ".join(way.page.locator("main").inner_text().split())).group(1)


def price_it(way, boards):
    """5.8 h are charged at £38 each, as it was said at set-up: £220.40."""
    way.page.goto(f"/quotes/job/{way.job}/")
    way.press("Draw up a quote")
    way.press("Bring in materials")
    way.press("Bring in hours")
    way.page.get_by_text(re.compile("lines? added")).wait_for()
    way.says(f"£{boards}", "Clad in boards", "£220.40")
    way.look("quote-desk")


def issue_and_link(way):
    way.press("Issue")
    way.says("SHA-256 of the PDF")
    way.press("New link")
    way.look("issued")
    return re.search(r"/quotes/link/\S+/", way.page.locator("body").inner_text()).group(0)


def client_accepts(client, link):
    client.page.goto(link)
    paper = client.page.request.get(client.page.get_by_role("link", name="PDF").first.get_attribute("href"))
    assert paper.body().startswith(b"%PDF-")
    text = client.page.locator("body").inner_text().lower()
    assert "contingency" not in text
    assert "markup" not in text
    assert "margin" not in text
    client.page.locator("[name=name]").first.fill("Tamsin Oakley")
    client.page.locator("[name=agrees]").check()
    client.look("client")
    client.press("Accept")
    assert "Accepted by Tamsin Oakley" in client.page.locator("body").inner_text()


def work_at_the_bench(way):
    """Three hours at £20, and £60 with 20 % tax in it, so £50 without."""
    way.page.goto("/bench/")
    way.page.get_by_role("button", name=re.compile("Wall lining")).first.click()
    way.page.get_by_role("button", name="Stop").first.click()
    way.page.get_by_text("No timer runs").wait_for()
    way.look("bench")
    way.page.goto("/bench/hours/")
    way.page.locator("label", has_text="3").first.click()
    way.press("Log")
    way.page.get_by_text("Wall lining: 3:00 h.").wait_for()
    way.page.goto("/bench/cost/")
    way.fill(total="60", description="Screws and glue")
    way.look("cost")
    way.press("Log")
    way.page.get_by_text("£60.00 on Wall lining.").wait_for()
    way.page.goto(f"/jobs/{way.job}/costs/")
    way.says("£50.00")


def raise_a_change(way):
    """One shelf at £30: 30 × 1.05 × 1.2 = £37.80."""
    way.page.goto(f"/quotes/job/{way.job}/change/")
    way.fill(title="A second shelf over the seat")
    way.press("Write it down")
    way.look("change")
    way.press("Price it")
    way.page.get_by_text("material or other cost").first.click()
    way.page.locator("[name=unit_cost]").wait_for()
    way.fill(description="Shelf board", unit_cost="30")
    way.press("Add the line")
    way.page.get_by_text("£37.80").first.wait_for()
    way.look("change-desk")


def see_where_it_went(way):
    """All done: what was spent, 3 h at £20 and £50, is the forecast, and the rest of the price the margin."""
    way.page.goto(f"/jobs/{way.job}/done/")
    way.page.locator("main [name$=-percent]").fill("100")
    way.press("Save")
    way.page.goto(f"/jobs/{way.job}/progress/")
    way.look("progress")
    text = " ".join(way.page.locator("main").inner_text().split())
    contract = float(re.search(r"Contract sum £([\d,.]+)", text).group(1).replace(",", ""))
    assert f"Margin by the forecast £{contract - 110:,.2f}" in text
    assert "changes £37.80" in text
    assert "AC actual cost of it £110.00" in text


def invoice_the_deposit(way):
    way.page.goto(f"/quotes/job/{way.job}/invoices/")
    way.press("Invoice Deposit on acceptance")
    way.look("invoice-draft")
    way.press("Issue")
    way.look("invoice")
    way.says("issued")
