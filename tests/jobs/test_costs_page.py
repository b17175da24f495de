"""The costs of a job: who sees which, what they come to, and how one is reversed."""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO
from uuid import uuid4

import pytest
from django.urls import reverse
from openpyxl import load_workbook

from jobs.models import CostEntry
from materials.services import stock
from tests import make


@pytest.fixture
def phase(workshop):
    return make.phase(job=make.job(state="bench"), title="Bunk")


def page(phase):
    return reverse("jobs:costs", args=[phase.job_id])


def reversal(cost):
    return reverse("jobs:cost-reverse", args=[cost.pk])


def test_the_costs_of_a_job_and_what_they_come_to(as_bookkeeper, phase):
    make.cost(phase=phase, supplier="Ferry Timber")
    make.cost(phase=phase, kind="hire", net=40, tax=8)
    make.cost(net=1000)
    shown = as_bookkeeper.get(page(phase)).context["page"]
    assert (shown.net, shown.tax, shown.by_kind) == (140, 28, (("material", 100), ("hire", 40)))


def test_a_maker_sees_what_they_logged_alone(as_maker, maker, phase):
    make.cost(phase=phase, supplier="Ferry Timber", person=maker)
    other = make.cost(phase=phase, supplier="Weir Hire")
    text = as_maker.get(page(phase)).text
    assert "Ferry Timber" in text
    assert "Weir Hire" not in text
    assert as_maker.get(reversal(other)).status_code == 404


def test_a_maker_sees_no_price_of_what_they_took_or_received(as_maker, maker, as_owner, phase):
    item = make.stock_item(value=Decimal("37.77"))
    stock.take(item=item, quantity=Decimal(1), phase=phase, person=maker, key=uuid4())
    make.delivery(make.order(quantity="10", price="4.123", weights={phase: "1"}), person=maker)
    typed = make.cost(phase=phase, person=maker, net=5, tax=1)
    as_csv, as_xlsx = (reverse("jobs:costs-file", args=[phase.job_id, kind]) for kind in ("csv", "xlsx"))
    for address in (page(phase), as_csv):
        for price in ("37.77", "41.23"):
            assert (price in as_owner.get(address).text, price in as_maker.get(address).text) == (True, False)
    shown = as_maker.get(page(phase)).context["page"]
    assert ([row.entry for row in shown.rows], shown.net, shown.tax) == ([typed], 5, 1)
    sheet = load_workbook(BytesIO(as_maker.get(as_xlsx).content)).active
    assert [row[6] for row in sheet.iter_rows(values_only=True)] == ["Net", 5]
    for cost in CostEntry.objects.exclude(pk=typed.pk):
        assert as_maker.get(reversal(cost)).status_code == 404


def test_a_reversal_with_its_reason(as_bookkeeper, phase):
    cost = make.cost(phase=phase)
    fields = {"key": uuid4(), "reason": "wrong job"}
    for _ in range(2):
        assert as_bookkeeper.post(reversal(cost), fields).headers["Location"] == page(phase)
    shown = as_bookkeeper.get(page(phase))
    assert (CostEntry.objects.count(), shown.context["page"].net) == (2, 0)
    assert "Reversed: wrong job" in shown.text


def test_a_reversal_that_cannot_be(as_owner, phase):
    cost = make.cost(phase=phase)
    assert as_owner.post(reversal(cost), {"key": uuid4()}).status_code == 422
    as_owner.post(reversal(cost), {"key": uuid4(), "reason": "wrong job"})
    again = as_owner.post(reversal(cost), {"key": uuid4(), "reason": "once more"})
    assert (again.status_code, "reversed already" in again.text) == (422, True)
    ordered = make.cost(phase=phase, source="order")
    assert as_owner.get(reversal(ordered)).status_code == 403


def test_an_unknown_job_or_cost(as_owner):
    assert as_owner.get(reverse("jobs:costs", args=[10**6])).status_code == 404
    assert as_owner.get(reverse("jobs:cost-reverse", args=[10**6])).status_code == 404


def test_as_a_file(as_owner, phase):
    make.cost(phase=phase, description="@oak")
    text = as_owner.get(reverse("jobs:costs-file", args=[phase.job_id, "csv"])).content.decode("utf-8-sig")
    assert "'@oak" in text
    assert as_owner.get(reverse("jobs:costs-file", args=[phase.job_id, "txt"])).status_code == 404


@pytest.mark.parametrize("count", [1, 3])
def test_the_page_asks_the_database_five_times(count, as_owner, phase, django_assert_num_queries):
    for _ in range(count):
        cost = make.cost(phase=phase, change=make.change(job=phase.job), photo=make.shared_photo())
        as_owner.post(reversal(cost), {"key": uuid4(), "reason": "wrong job"})
    with django_assert_num_queries(5):
        as_owner.get(page(phase))
