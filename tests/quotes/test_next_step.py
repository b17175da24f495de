"""The job page leads: one first button, by where the job stands."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.job_links import Shown
from jobs.models import Job, Person
from quotes.services import asking
from tests import make
from tests.checks import queries_of, says


def first(browser: Browser, job: Job) -> Shown | None:
    return browser.get(job.get_absolute_url()).context["sheet"].first_step


def taken_off() -> Job:
    return make.taken_off(make.board((24000, "10.00")), (6000, 2)).phase.job


def test_an_enquiry_is_taken_off_phase_by_phase(as_owner: Browser) -> None:
    job = make.job()
    assert first(as_owner, job) == Shown("Add a phase", reverse("jobs:phase-add", args=[job.pk]))
    make.phase(job=job)
    wanted = Shown("Take off the first phase", reverse("materials:takeoff", args=[job.pk]))
    assert first(as_owner, job) == wanted


def test_what_is_taken_off_is_quoted(as_owner: Browser, as_maker: Browser) -> None:
    job = taken_off()
    assert first(as_owner, job) == Shown("Draw up a quote", reverse("quotes:of_job", args=[job.pk]))
    assert first(as_maker, job) is None


@pytest.mark.parametrize("is_taken_off", [True, False])
def test_a_draft_is_opened_whether_or_not_anything_is_taken_off(
    as_owner: Browser, is_taken_off: bool
) -> None:
    job = taken_off() if is_taken_off else make.phase().job
    draft = make.quote(job=job)
    assert first(as_owner, job) == Shown("Open the draft quote", draft.get_absolute_url())


def test_what_is_issued_is_sent_and_followed(as_owner: Browser) -> None:
    quote = make.issued_quote()
    wanted = Shown("Send or follow the quote", reverse("quotes:sheet", args=[quote.pk]))
    assert first(as_owner, quote.job) == wanted


def test_a_contract_is_invoiced_and_then_worked_on(as_owner: Browser, as_maker: Browser) -> None:
    job = make.contract()
    timer = Shown("Start a timer", reverse("jobs:bench"))
    deposit = Shown("Invoice the deposit", reverse("quotes:invoices_of_job", args=[job.pk]))
    assert (first(as_owner, job), first(as_maker, job)) == (deposit, timer)
    make.invoice(job)
    assert first(as_owner, job) == timer


def test_a_job_won_without_a_contract_has_no_deposit(as_owner: Browser) -> None:
    assert first(as_owner, make.phase(job=make.job(state="won")).job) == Shown(
        "Start a timer", reverse("jobs:bench")
    )


@pytest.mark.parametrize(
    ("state", "label"), [("handed_over", "Final account"), ("closed", "Look back"), ("lost", None)]
)
def test_when_the_work_is_over(as_owner: Browser, state: str, label: str | None) -> None:
    found = first(as_owner, make.phase(job=make.job(state=state)).job)
    assert (found.label if found else None) == label


def test_links_stand_in_the_order_of_the_work(as_owner: Browser) -> None:
    places = as_owner.get(make.job(state="closed").get_absolute_url()).context["sheet"].places
    assert [place.label for place in places] == [
        "Take-off", "Cutting plans", "Purchase list", "Mass", "Quotes and changes", "Progress", "Costs",
        "Invoices", "Looking back",
    ]  # fmt: skip


@pytest.mark.parametrize(("make_job", "at_rest"), [(taken_off, "lost"), (make.contract, "bench")])
def test_the_next_step_takes_one_query_at_most(
    as_owner: Browser, make_job: Callable[[], Job], at_rest: str
) -> None:
    job = make_job()
    waiting = queries_of(as_owner, job.get_absolute_url())
    Job.objects.update(state=at_rest)
    assert queries_of(as_owner, job.get_absolute_url()) == waiting - 1


def test_a_question_comes_before_all_else_until_it_is_answered(as_owner: Browser, owner: Person) -> None:
    quote = make.issued_quote()
    quote.messages.create(from_client=True, author="Cleo", text="Which oil?")
    wanted = Shown("Answer the question", reverse("quotes:sheet", args=[quote.pk]))
    assert first(as_owner, quote.job) == wanted
    assert says(as_owner.get(quote.job.get_absolute_url()), "a question waits")
    asking.answer(quote=quote, person=owner, text="A hard wax oil.")
    assert first(as_owner, quote.job) != wanted
