"""The desk in a real browser: from a new job to phases under way, at both widths, light and dark."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from jobs.models import Job
from tests import make
from tests.browser.conftest import DESK, PHONE

pytestmark = pytest.mark.browser
BOTH = pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])


def under_way():
    """A job with a phase past its budget, one within it, and a change nobody has agreed."""
    job = make.job(state="bench", title="Shepherd’s hut, lining and fit-out")
    for title, percent, spent in [("Wall lining", 50, 30), ("Bunk and drawers", 15, 2)]:
        phase = make.phase(
            job=job,
            title=title,
            percent_done=percent,
            planned_start=date(2026, 6, 1),
            planned_days=8,
            cautions=["dust"],
        )
        make.budget(phase=phase, hours=Decimal(40), labour_cost=Decimal(800), price=Decimal(2000))
        for week in (0, 1):
            make.hours(phase=phase, seconds=spent * 1800, on_date=date(2026, 6, 2 + 7 * week))
        make.cost(phase=phase)
    make.hours(phase=phase, change=make.change(job=job, state="issued", title="A hatch"))
    return job


@BOTH
def test_a_job_is_added_with_a_new_client_and_its_first_phase(size, owner, open_page):
    page = open_page(owner, size=size)
    page.goto("/")
    page.get_by_role("link", name="New job").click()
    page.get_by_label("Client", exact=True).fill("Hollin Farm Stays")
    page.get_by_label("Title").fill("Shepherd’s hut")
    page.get_by_role("button", name="Add job").click()
    assert "Nobody of that name yet" in page.content()
    page.get_by_label("Add this client as a new one").check()
    page.get_by_role("button", name="Add job").click()
    page.get_by_role("link", name="Add the first phase").click()
    page.get_by_label("Title").fill("Wall lining")
    page.get_by_role("button", name="Add phase").click()
    page.get_by_role("link", name="To the job").click()
    expect(page.get_by_role("rowheader", name="Wall lining")).to_be_visible()
    assert Job.objects.get().client.name == "Hollin Farm Stays"


@BOTH
def test_how_far_it_is_moves_the_forecast(size, maker, open_page):
    job = under_way()
    page = open_page(maker, size=size)
    page.goto(job.get_absolute_url())
    page.get_by_role("link", name="Say how far it is").click()
    page.get_by_label("Done, %").first.fill("75")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_label("agreed 40.0 hours, spent 30.0, forecast 40.0")).to_be_visible()


def pages(job):
    """Every page of the desk that has something to show."""
    phase = job.phases.first()
    yield reverse("jobs:list")
    for name in ("detail", "progress", "look-back", "phases", "done", "edit", "phase-list-of-job"):
        yield reverse(f"jobs:{name}", args=[job.pk])
    yield reverse("jobs:phase", args=[phase.pk])
    yield reverse("jobs:phase-edit", args=[phase.pk])
    yield reverse("jobs:client", args=[job.client.pk])
    yield from (reverse(f"jobs:{name}") for name in ("add", "clients", "portfolio", "learnt", "workshop"))
    yield from (reverse("jobs:workshop-edit", args=[name]) for name in ("letterhead", "pricing", "quotes"))
    yield reverse("jobs:phase-list-add")
    yield f"{reverse('jobs:find')}?q=hut"


@BOTH
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_nothing_is_amiss_and_nothing_runs_off_the_page(size, dark, owner, open_page, amiss):
    job = under_way()
    page = open_page(owner, size=size, dark=dark)
    found = {}
    for address in pages(job):
        page.goto(address)
        if wrong := amiss(page):
            found[address] = wrong
    assert found == {}


@BOTH
def test_what_can_be_pressed_is_large_enough(size, owner, open_page):
    job = under_way()
    page = open_page(owner, size=size)
    page.goto(job.get_absolute_url())
    small = page.evaluate(
        """() => [...document.querySelectorAll("main button, main .do, main input:not([type=hidden])")]
            .filter(one => one.getBoundingClientRect().height < 24).map(one => one.outerHTML)"""
    )
    assert small == []


def test_the_sheet_works_without_script(owner, open_page):
    job = under_way()
    page = open_page(owner, java_script_enabled=False)
    page.goto(reverse("jobs:phases", args=[job.pk]))
    page.get_by_role("button", name="Bunk and drawers one up").click()
    assert [phase.title for phase in job.phases.order_by("position")] == ["Bunk and drawers", "Wall lining"]
