"""A contract that is cancelled counts no more, anywhere, and the next one counts alone."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db.models import Sum
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import BudgetEntry, Change, HistoryEntry, Job, Person
from jobs.refusals import RefusedError
from jobs.services.jobs import StepError, move_job
from quotes.models import Quote
from quotes.queries.invoices import account_of
from quotes.queries.quotes import quotes_of_job
from quotes.services import changes, drafting, invoicing, issuing
from quotes.services.cancelling import FIGURES, cancel_contract
from tests import make
from tests.checks import says

pytestmark = pytest.mark.usefixtures("workshop")


def change_order(job: Job, owner: Person) -> Quote:
    change = changes.raise_change(job=job, person=owner, title="A second shelf")
    order = changes.price_change(change=change, person=owner)
    make.quote_line(200, quote=order, mass_kg=Decimal(3))
    return order


@pytest.fixture
def job(owner: Person) -> Job:
    """Won at 1000 in two stages, with an agreed change of 200."""
    won = make.contract(1000, stages=(50, 50))
    make.answer(issuing.issue(quote=change_order(won, owner), person=owner))
    return Job.objects.get(pk=won.pk)


def cancel(job: Job, owner: Person, reason: str = "The client moves away") -> Job:
    return cancel_contract(job=job, person=owner, reason=reason)


def states(job: Job) -> list[str]:
    return list(job.quotes.order_by("pk").values_list("state", flat=True))


def test_nothing_is_agreed_any_more_and_the_job_is_lost(job: Job, owner: Person) -> None:
    assert cancel(job, owner).state == "lost"
    assert states(job) == ["withdrawn", "withdrawn"]
    assert Change.objects.get().state == "withdrawn"
    assert (account_of(job).contract_sum, quotes_of_job(job.pk).contract_sum) == (0, 0)


def test_the_ledger_keeps_what_was_agreed_and_its_opposite(job: Job, owner: Person) -> None:
    cancel(job, owner)
    entries = BudgetEntry.objects.filter(phase__job=job)
    assert sorted(entry.price for entry in entries) == [-1000, -200, 200, 1000]
    by_source = entries.order_by().values("phase", "source", "change").annotate(*map(Sum, FIGURES))
    assert all(row[f"{name}__sum"] == 0 for row in by_source for name in FIGURES)


def test_the_next_contract_counts_alone(job: Job, owner: Person) -> None:
    lost = cancel(job, owner)
    move_job(lost, to="enquiry", person=owner)
    again = drafting.revise(quote=job.quotes.get(change=None), person=owner)
    again.lines.update(unit_cost=Decimal(800))
    again.payment_stages = [{"title": "All", "percent": "100"}]
    again.save()
    make.answer(issuing.issue(quote=again, person=owner))
    assert (account_of(job).contract_sum, quotes_of_job(job.pk).contract_sum) == (800, 800)
    assert invoicing.draft_stage(job=job, stage=0, person=owner).without_tax == 800
    assert Job.objects.get(pk=job.pk).state == "won"


def test_change_orders_that_wait_are_withdrawn_with_it(job: Job, owner: Person) -> None:
    issuing.issue(quote=change_order(job, owner), person=owner)
    change_order(job, owner)
    cancel(job, owner)
    assert set(states(job)) == {"withdrawn"}
    assert set(job.changes.values_list("state", flat=True)) == {"withdrawn"}


def test_another_offer_still_stands(job: Job, owner: Person) -> None:
    other = make.issued_quote(500, job=job)
    cancel(job, owner)
    other.refresh_from_db()
    assert other.state == "issued"


def test_the_reason_is_in_the_history(job: Job, owner: Person) -> None:
    cancel(job, owner)
    told = HistoryEntry.objects.filter(record="quote", action="cancelled")
    assert {tuple(entry.changes["reason"]) for entry in told} == {(None, "The client moves away")}
    assert told.count() == 2


def test_cancelled_twice_is_cancelled_once(job: Job, owner: Person) -> None:
    for _ in range(2):
        assert cancel(job, owner).state == "lost"
    assert BudgetEntry.objects.count() == 4


def test_without_a_reason_it_is_refused(job: Job, owner: Person) -> None:
    with pytest.raises(RefusedError, match="Say why"):
        cancel(job, owner, " ")


@pytest.mark.parametrize("state", ["bench", "handed_over", "closed"])
def test_a_job_that_is_worked_on_is_changed_not_cancelled(job: Job, owner: Person, state: str) -> None:
    Job.objects.update(state=state)
    with pytest.raises(RefusedError, match="change order"):
        cancel(job, owner)
    assert account_of(job).contract_sum == 1200


def test_while_an_invoice_stands_it_is_refused(job: Job, owner: Person) -> None:
    draft = invoicing.draft_stage(job=job, stage=0, person=owner)
    with pytest.raises(RefusedError, match="Remove that draft"):
        cancel(job, owner)
    issued = invoicing.issue_invoice(invoice=draft, person=owner)
    with pytest.raises(RefusedError, match="Credit it in full"):
        cancel(job, owner)
    credit = invoicing.draft_credit(invoice=issued, person=owner)
    invoicing.issue_invoice(invoice=credit, person=owner)
    assert cancel(job, owner).state == "lost"


def test_a_job_lost_before_that_was_asked_for_is_put_right(job: Job, owner: Person) -> None:
    Job.objects.update(state="enquiry")
    assert cancel(job, owner).state == "enquiry"
    assert account_of(job).contract_sum == 0


def test_a_job_is_not_lost_while_its_contract_stands(job: Job, owner: Person) -> None:
    with pytest.raises(StepError, match="Cancel it under"):
        move_job(job, to="lost", person=owner)
    assert Job.objects.get(pk=job.pk).state == "won"


def test_cancelled_in_the_browser(job: Job, as_owner: Browser, as_bookkeeper: Browser) -> None:
    of_job, address = (reverse(f"quotes:{name}", args=[job.pk]) for name in ("of_job", "cancel_contract"))
    assert says(as_owner.get(of_job), "Cancel the contract")
    assert not says(as_bookkeeper.get(of_job), "Cancel the contract")
    assert as_owner.post(address, {"reason": ""}).status_code == 422
    answer = as_owner.post(address, {"reason": "The client moves away"}, follow=True)
    assert says(answer, "The contract is cancelled.", "withdrawn")
    assert not says(answer, "Cancel the contract", "contract sum")


def test_a_job_at_the_bench_does_not_offer_it(job: Job, as_owner: Browser) -> None:
    Job.objects.update(state="bench")
    assert not says(as_owner.get(reverse("quotes:of_job", args=[job.pk])), "Cancel the contract")


def test_the_client_still_reads_what_was_agreed_and_that_it_is_cancelled(
    job: Job, owner: Person, as_stranger: Browser
) -> None:
    token = make.link_to(job.quotes.get(change=None))
    cancel(job, owner)
    page = as_stranger.get(reverse("quotes:link", args=[token]))
    assert says(page, "Accepted", "cancelled afterwards", "Keep the evidence")
    assert not says(page, "Thank you")
    assert as_stranger.get(reverse("quotes:link_evidence", args=[token])).status_code == 200


def test_what_was_withdrawn_unanswered_stays_shut(owner: Person, as_stranger: Browser) -> None:
    quote = make.issued_quote(100)
    token = make.link_to(quote)
    issuing.withdraw(quote=quote, person=owner)
    assert as_stranger.get(reverse("quotes:link", args=[token])).status_code == 404
