"""Invoices in a real browser, from draft to reminder: both widths, both grounds."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from quotes.models import Invoice
from quotes.services import invoicing
from tests import make
from tests.browser.conftest import DESK, PHONE

pytestmark = pytest.mark.browser
EACH = [(DESK, False), (PHONE, True)]


@pytest.mark.parametrize(("size", "dark"), EACH, ids=["desk light", "phone dark"])
def test_from_a_stage_to_what_is_late(size, dark, owner, open_page, amiss):
    job = make.contract(1000)
    page = open_page(owner, size=size, dark=dark)
    found = {}

    def look(name):
        if wrong := amiss(page):
            found[name] = wrong

    page.goto(reverse("quotes:invoices_of_job", args=[job.pk]))
    look("nothing invoiced")
    page.get_by_role("button", name="Invoice Stage 1").click()
    look("draft")
    page.get_by_role("button", name="Issue").click()
    page.get_by_label("Amount", exact=True).fill("100")
    page.get_by_role("button", name="Enter the payment").click()
    expect(page.get_by_text("£260.00 open")).to_be_visible()
    look("part paid")
    page.get_by_label("Amount without tax").fill("9999")
    page.get_by_role("button", name="Draft a credit note").click()
    expect(page.get_by_text("No more can be credited")).to_be_visible()
    look("a credit refused")
    Invoice.objects.update(due_on=timezone.localdate() - timedelta(days=9))
    invoice = Invoice.objects.get()
    note = invoicing.draft_credit(invoice=invoice, person=owner, amount=None)
    page.goto(note.get_absolute_url())
    look("credit note")
    page.goto(reverse("quotes:overdue"))
    expect(page.get_by_text("9 days late")).to_be_visible()
    look("overdue")
    page.get_by_role("link", name=invoice.number).click()
    page.get_by_role("link", name="Send a reminder").click()
    look("reminder")
    page.get_by_role("button", name="Send").click()
    expect(page.get_by_role("cell", name="waits")).to_be_visible()
    look("with its letters")
    for name, more in [("statement", [job.client_id]), ("invoices_of_job", [job.pk]), ("letters", [])]:
        page.goto(reverse(f"quotes:{name}", args=more))
        look(name)
    assert found == {}
