"""The demo loads through the services, whole, once, and shows jobs in different states."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from django.db import transaction
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import DjangoDbBlocker

from jobs.enums import ChangeState, JobState
from jobs.models import BudgetEntry, Change, Job, Person, TimeEntry
from materials.models import Material, TakeoffItem
from quotes.demo.load import load_demo
from quotes.demo.workshop import BOOKS_EMAIL, MAKER_EMAIL, OWNER_EMAIL, PASSWORD
from quotes.models import Quote
from tests.links import pages_reached

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module", autouse=True)
def _demo(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
    """Loaded once for all the tests here, each of which is rolled back to it."""
    with django_db_blocker.unblock(), transaction.atomic():
        load_demo(date(2026, 11, 25))
        yield
        transaction.set_rollback(True)


def test_three_jobs_stand_at_different_points_of_the_way() -> None:
    states = set(Job.objects.values_list("state", flat=True))
    assert states == {JobState.CLOSED, JobState.BENCH, JobState.QUOTED}
    assert Material.objects.count() > 70
    assert TakeoffItem.objects.exists()
    assert set(Change.objects.values_list("state", flat=True)) == {ChangeState.AGREED, ChangeState.DRAFT}
    assert TimeEntry.objects.filter(change__state=ChangeState.DRAFT).exists()


def test_every_paper_that_was_issued_is_kept_and_the_agreed_ones_are_budget() -> None:
    issued = Quote.objects.exclude(document=None)
    assert {bytes(quote.document.content)[:5] for quote in issued} == {b"%PDF-"}
    agreed = {quote.job_id for quote in issued.filter(state="accepted")}
    assert {line.kind for quote in issued for line in quote.lines.all()} >= {"labour", "material"}
    assert agreed == set(BudgetEntry.objects.values_list("phase__job_id", flat=True))


def test_the_printed_log_in_opens_every_job() -> None:
    browser = Browser()
    browser.post(reverse("login"), {"email": OWNER_EMAIL, "password": PASSWORD})
    for job in Job.objects.all():
        assert browser.get(job.get_absolute_url()).status_code == 200


@pytest.mark.parametrize(("email", "least"), [(OWNER_EMAIL, 80), (MAKER_EMAIL, 30), (BOOKS_EMAIL, 50)])
def test_every_link_of_every_page_leads_somewhere(email: str, least: int) -> None:
    browser = Browser(raise_request_exception=False)
    browser.force_login(Person.objects.get(email=email))
    found = pages_reached(browser, most_of_a_kind=2)
    assert [one for one in found if one.status >= 400] == []
    assert len(found) > least
