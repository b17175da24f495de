"""What of quotes, changes and invoices is open when a job is closed; a closed job takes no more of them."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Job, Person
from jobs.refusals import RefusedError
from quotes.queries.still_open import not_paid_or_answered
from quotes.services.changes import raise_change
from quotes.services.drafting import start_quote
from quotes.services.invoicing import issue_invoice
from tests import make
from tests.checks import says

pytestmark = pytest.mark.usefixtures("workshop")


def words_on(job: Job) -> list[str]:
    return [one.words for one in not_paid_or_answered(job)]


def test_nothing_is_open_on_a_bare_job() -> None:
    assert words_on(make.job()) == []


def test_what_is_not_invoiced_and_a_draft() -> None:
    draft = make.invoice()
    assert words_on(draft.job) == [
        "£100.00 of the contract, without tax, is not invoiced.",
        "Invoice “Stage 1” is a draft.",
    ]


def test_an_invoice_not_paid_says_what_is_open(owner: Person) -> None:
    draft = make.invoice()
    issue_invoice(invoice=draft, person=owner)
    said = words_on(draft.job)
    assert said[0] == "£70.00 of the contract, without tax, is not invoiced."
    assert "is not paid: £36.00 open, due " in said[1]


def test_quotes_and_changes_that_wait(owner: Person) -> None:
    quote = make.quote()
    out = make.issued_quote(job=quote.job)
    raise_change(job=quote.job, person=owner, title="A hatch")
    assert words_on(quote.job) == [
        f"Quote {quote} is a draft.",
        f"Quote {out} is issued and not answered.",
        "Change 1, A hatch, is not priced and agreed.",
    ]


def test_a_closed_job_takes_no_quote_and_no_change(owner: Person, as_owner: Browser) -> None:
    job = make.job(state="closed")
    with pytest.raises(RefusedError, match="is closed"):
        start_quote(job=job, person=owner)
    with pytest.raises(RefusedError, match="is closed"):
        raise_change(job=job, person=owner, title="A hatch")
    of_job = as_owner.get(reverse("quotes:of_job", args=[job.pk]))
    assert not says(of_job, "Draw up a quote")
    assert not says(of_job, "Write down a change")
    assert not says(as_owner.get(job.get_absolute_url()), "Write down a change")
    assert says(as_owner.post(reverse("quotes:start", args=[job.pk]), follow=True), "is closed")
    raised = as_owner.post(
        reverse("quotes:raise_change", args=[job.pk]), {"title": "A hatch", "rough_hours": "2"}
    )
    assert says(raised, "is closed")
    assert not job.changes.exists()
