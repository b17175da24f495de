"""Invoices in the browser's eyes, and what the accountant gets."""

from __future__ import annotations

import io
import uuid
from datetime import timedelta
from decimal import Decimal

import facturx
import pikepdf
import pytest
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from jobs.models import Client, Outbox, TaxRate, Workshop
from quotes.models import Invoice, Payment
from quotes.papers.invoice_xml import invoice_xml
from quotes.papers.invoices import paper_of_invoice
from quotes.services import invoicing
from tests import make
from tests.checks import queries_of, says

pytestmark = pytest.mark.usefixtures("workshop")


def at(name, thing, *more):
    return reverse(f"quotes:{name}", args=[thing.pk, *more])


@pytest.fixture
def issued(owner):
    Workshop.objects.update(bank_details="Sort 00-00-00")
    return invoicing.issue_invoice(invoice=make.invoice(make.contract(1000)), person=owner)


def test_from_a_stage_to_its_number(as_owner):
    job = make.contract(1000)
    as_owner.post(at("draft_stage", job, 0))
    draft = Invoice.objects.get()
    as_owner.post(at("issue_invoice", draft))
    page = as_owner.get(at("invoice", draft))
    assert says(page, f"{timezone.localdate().year}-0001", "£360.00")


def test_the_bookkeeper_keeps_the_books(as_bookkeeper):
    as_bookkeeper.post(at("draft_stage", make.contract(), 0))
    assert Invoice.objects.exists()


def test_the_paper_carries_the_xml_it_was_issued_with(as_owner, issued):
    paper = as_owner.get(at("invoice_paper", issued)).content
    name, xml = facturx.get_xml_from_pdf(paper)
    assert name == "factur-x.xml"
    assert xml == invoice_xml(paper_of_invoice(issued)) == as_owner.get(at("invoice_xml", issued)).content
    assert as_owner.get(at("invoice_paper", issued)).content == paper


def test_the_paper_claims_its_profile_and_lists_its_attachment_once(as_owner, issued):
    with pikepdf.open(io.BytesIO(as_owner.get(at("invoice_paper", issued)).content)) as document:
        assert len(document.Root.AF) == 1
        assert document.Root.MarkInfo.Marked
        with document.open_metadata() as metadata:
            profile = "{urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#}ConformanceLevel"
            assert metadata[profile] == "EN 16931"


def test_a_draft_has_neither_paper_nor_xml(as_owner):
    draft = make.invoice()
    for name in ("invoice_paper", "invoice_xml"):
        assert as_owner.get(at(name, draft)).status_code == 302


def test_a_draft_is_removed(as_owner):
    as_owner.post(at("remove_invoice", make.invoice()))
    assert not Invoice.objects.exists()


def pay(browser, invoice, **fields):
    form = {"amount": "100", "on": "2026-03-02", "note": "by bank", "key": str(uuid.uuid4())}
    return browser.post(at("pay", invoice), form | fields)


def test_a_payment_is_entered_once(as_owner, issued):
    key = str(uuid.uuid4())
    for _ in range(2):
        assert pay(as_owner, issued, key=key).status_code == 302
    assert Payment.objects.get().amount == 100
    assert says(as_owner.get(at("invoice", issued)), "part paid", "£260.00")


@pytest.mark.parametrize("amount", ["", "lots", "0", "361", "-1", "1e20"])
def test_a_payment_that_makes_no_sense_keeps_what_was_typed(as_owner, issued, amount):
    assert says(pay(as_owner, issued, amount=amount), "by bank", "amiss")
    assert not Payment.objects.exists()


def test_a_credit_note_is_drafted(as_owner, issued):
    as_owner.post(at("credit", issued), {"amount": "50"})
    assert Invoice.objects.get(kind="credit_note").with_tax == 60


@pytest.mark.parametrize("amount", ["300.01", "0", "-5", "much"])
def test_a_credit_that_makes_no_sense_is_refused(as_owner, issued, amount):
    assert says(as_owner.post(at("credit", issued), {"amount": amount}), "amiss")
    assert Invoice.objects.count() == 1


def test_a_final_account_with_retention_and_a_bad_one(as_owner):
    job = make.contract(1000)
    assert says(as_owner.post(at("draft_rest", job), {"retention_percent": "99"}), "amiss")
    as_owner.post(at("draft_rest", job), {"retention_percent": "5"})
    assert Invoice.objects.get().without_tax == 950


def test_more_than_is_done_is_not_asked_for(as_owner):
    answer = as_owner.post(at("draft_progress", make.contract()), follow=True)
    assert says(answer, "No more work")


def letters():
    """Those about invoices."""
    return Outbox.objects.filter(key__startswith="invoice ")


def test_an_invoice_goes_out_with_its_paper(as_owner, issued):
    as_owner.post(at("send_invoice", issued), {"to": "client@example.org", "words": "Dear client"})
    letter = letters().get()
    assert letter.attachments.get().name == f"{issued.number}.pdf"
    for body in (letter.text, letter.html):
        assert all(words in body for words in ("Dear client", issued.number, "£360.00", "Sort 00-00-00"))
    assert "<td>£360.00</td>" in letter.html
    assert says(as_owner.get(at("invoice", issued)), "Letters", "client@example.org", "waits")


def test_the_right_address_gets_it_the_same_day_as_the_wrong_one(as_owner, issued):
    for to in ("wrong@example.org", "right@example.org", "right@example.org", "Right@Example.org"):
        as_owner.post(at("send_invoice", issued), {"to": to, "words": "Dear client"})
    as_owner.post(at("send_invoice", issued), {"to": "right@example.org", "words": "Dear Ash"})
    sent = letters().order_by("pk").values_list("to", flat=True)
    assert list(sent) == ["wrong@example.org", "right@example.org", "right@example.org"]
    assert says(as_owner.get(at("invoice", issued)), "wrong@example.org", "right@example.org")


def test_a_letter_is_plain_text_in_one_part_and_escaped_in_the_other(as_owner, issued):
    words = "Dear Ash & <Elm>"
    as_owner.post(at("send_invoice", issued), {"to": "client@example.org", "words": words})
    letter = letters().get()
    assert words in letter.text
    assert "Ash &amp; &lt;Elm&gt;" in letter.html


def test_a_letter_that_failed_is_shown_with_its_invoice_and_sent_again(as_owner, issued):
    as_owner.post(at("send_invoice", issued), {"to": "client@example.org", "words": "Dear client"})
    letters().update(attempts=2, last_error="no answer", try_after=timezone.now() + timedelta(hours=1))
    assert says(as_owner.get(at("invoice", issued)), "failed 2 times: no answer", "again")
    as_owner.post(at("send_again", letters().get()))
    assert letters().get().try_after is None


def test_a_credit_note_asks_for_no_payment(as_owner, issued):
    as_owner.post(at("credit", issued), {"amount": "50"})
    note = Invoice.objects.get(kind="credit_note")
    as_owner.post(at("issue_invoice", note))
    as_owner.post(at("send_invoice", note), {"to": "client@example.org", "words": "Dear client"})
    letter = letters().get()
    assert "£60.00" in letter.text
    assert "Still open" not in letter.text + letter.html


def test_a_reminder_is_prepared_and_sent_by_a_person_once_a_day(as_owner, issued):
    Invoice.objects.update(due_on=timezone.localdate() - timedelta(days=3))
    assert says(as_owner.get(reverse("quotes:overdue")), issued.number, "3 days late")
    assert says(as_owner.get(at("send_invoice", issued)), "was due", "£360.00")
    assert not letters().exists()
    for _ in range(2):
        as_owner.post(at("send_invoice", issued), {"to": "client@example.org", "words": "Please"})
    letter = letters().get()
    assert letter.subject.startswith("Reminder")
    assert "Still open" in letter.html


def test_reverse_charge_wants_both_tax_numbers(as_owner):
    TaxRate.objects.update(category="AE", percent=Decimal(0), reason="Reverse charge")
    draft = make.invoice(make.contract(1000))
    assert says(as_owner.post(at("issue_invoice", draft), follow=True), "Reverse charge needs")
    Client.objects.update(tax_number="GB987654321")
    as_owner.post(at("issue_invoice", draft))
    assert Invoice.objects.get().number is not None


def test_tax_without_a_tax_number_is_refused_with_words_beside_the_button(as_owner):
    Workshop.objects.update(tax_number="")
    draft = make.invoice(make.contract(1000))
    assert says(as_owner.get(at("invoice", draft)), "tax number is missing", "Issue")
    as_owner.post(at("issue_invoice", draft), follow=True)
    assert Invoice.objects.get().number is None
    Workshop.objects.update(tax_number="GB123456789")
    assert not says(as_owner.get(at("invoice", draft)), "tax number is missing")


def test_who_is_not_registered_charges_no_tax(as_owner):
    draft = make.invoice(make.contract(1000))
    Workshop.objects.update(not_registered_for_tax=True)
    assert says(as_owner.post(at("issue_invoice", draft), follow=True), "charges none")
    assert Invoice.objects.get().number is None


def test_who_is_not_registered_invoices_outside_the_scope(as_owner):
    Workshop.objects.update(not_registered_for_tax=True, tax_number="")
    TaxRate.objects.update(category="O", percent=Decimal(0), reason="Not registered for tax")
    as_owner.post(at("issue_invoice", make.invoice(make.contract(1000))))
    issued = Invoice.objects.get()
    assert (issued.tax, issued.number is not None) == (0, True)


def test_the_statement_of_a_client(as_owner, issued):
    pay(as_owner, issued)
    page = as_owner.get(reverse("quotes:statement", args=[issued.job.client_id]))
    assert says(page, "£360.00", "£260.00")
    paper = as_owner.get(reverse("quotes:statement_paper", args=[issued.job.client_id])).content
    words = PdfReader(io.BytesIO(paper)).pages[0].extract_text()
    assert all(each in words for each in (issued.number, "£360.00", "£260.00", "Still open", "Sort 00-00-00"))


def test_a_statement_of_nothing_is_a_paper_too(as_owner):
    paper = as_owner.get(reverse("quotes:statement_paper", args=[make.client().pk])).content
    assert "Nothing has been asked for" in PdfReader(io.BytesIO(paper)).pages[0].extract_text()


@pytest.mark.parametrize("table", ["invoices", "payments", "costs"])
@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_the_accountant_gets_a_table(as_bookkeeper, as_owner, issued, table, kind):
    today = timezone.localdate()
    pay(as_owner, issued, on=today.isoformat())
    make.cost(on_date=today, description="=2+2 screws")
    period = {"table": table, "first": "2020-01-01", "last": today.isoformat(), "format": kind}
    answer = as_bookkeeper.get(reverse("quotes:accounts"), period)
    assert answer.headers["Content-Disposition"].endswith(f'.{kind}"')
    if kind == "csv":
        expected = {"invoices": "300.00,60.00,360.00", "payments": "100", "costs": "'=2+2 screws"}
        assert expected[table] in answer.content.decode("utf-8-sig")


@pytest.mark.parametrize("changes", [{"last": "2019-01-01"}, {"first": "then"}, {"table": "people"}])
def test_a_period_that_is_none_is_refused(as_owner, changes):
    period = {"table": "costs", "first": "2020-01-01", "last": "2020-12-31", "format": "csv"}
    assert says(as_owner.get(reverse("quotes:accounts"), period | changes), "amiss")


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow_with_invoices(as_owner, count):
    job = make.contract(1000, stages=(20, 20, 60))
    for stage in range(count):
        draft = invoicing.draft_stage(job=job, stage=stage, person=make.person(role="owner"))
        invoicing._number(draft, make.person(role="owner"))
    Invoice.objects.update(due_on=timezone.localdate() - timedelta(days=3))
    assert queries_of(as_owner, at("invoices_of_job", job)) == 12
    assert queries_of(as_owner, reverse("quotes:overdue")) == 6
    assert queries_of(as_owner, reverse("quotes:statement", args=[job.client_id])) == 6


def test_a_payment_is_taken_back_on_the_page(as_owner):
    payment = make.payment(360)
    address = at("invoice", payment.invoice)
    assert says(as_owner.get(address), "Nothing is open", "take it back")
    as_owner.post(reverse("quotes:take_payment_back", args=[payment.pk]))
    answer = as_owner.get(address)
    assert says(answer, "Enter the payment", "Entered by mistake")
    assert not says(answer, "take it back")


def test_a_final_account_is_named_once(as_owner):
    invoice = invoicing.draft_rest(
        job=make.contract(1000), person=make.person(role="owner"), retention_percent=Decimal(0)
    )
    head = as_owner.get(invoice.get_absolute_url()).content.decode().split("<h1>")[1].split("</h1>")[0]
    assert head == "Final account"
