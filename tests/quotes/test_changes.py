"""Changes: written down, priced at the contract's rules, agreed, and what the contract sum is after each."""

from __future__ import annotations

import io
from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse
from pypdf import PdfReader

from jobs.models import BudgetEntry, Change
from jobs.refusals import RefusedError
from quotes.models import ChangeNote, Quote, QuoteLine
from quotes.queries.quotes import quotes_of_job
from quotes.queries.sheet import paper_of
from quotes.services import changes, drafting, issuing
from tests import make
from tests.checks import says

pytestmark = pytest.mark.usefixtures("workshop")


@pytest.fixture
def contract():
    return make.answer(make.issued_quote(200, 300)).quote


def order_for(contract, owner, title="Second shelf"):
    change = changes.raise_change(job=contract.job, person=owner, title=title)
    return changes.price_change(change=change, person=owner)


def test_changes_are_numbered_in_their_job(contract, owner):
    other = changes.raise_change(job=make.job(), person=owner, title="Elsewhere")
    numbers = [changes.raise_change(job=contract.job, person=owner, title="x").number for _ in range(2)]
    assert (numbers, other.number) == ([1, 2], 1)


def test_a_change_order_carries_the_contracts_rules_over(contract, owner):
    contract.profit = {"material": {"basis": "margin", "percent": "20"}}
    contract.save(update_fields=["profit"])
    order = order_for(contract, owner)
    assert order.profit == contract.profit
    assert order.number == f"CO{contract.job.number}-1"
    assert order.payment_stages == []


def test_priced_twice_it_is_one_order(contract, owner):
    change = changes.raise_change(job=contract.job, person=owner, title="Shelf")
    assert changes.price_change(change=change, person=owner) == changes.price_change(
        change=change, person=owner
    )


def test_an_agreed_change_moves_budget_contract_sum_and_register(contract, owner):
    order = order_for(contract, owner)
    make.quote_line(80, quote=order)
    omitted = contract.lines.order_by("unit_cost").first()
    changes.omit_line(order=order, line=omitted, percent=Decimal(50), person=owner)
    make.answer(issuing.issue(quote=order, person=owner))
    assert Change.objects.get().state == "agreed"
    entry = BudgetEntry.objects.get(source="change")
    assert (entry.price, entry.material_cost, entry.change) == (-20, -20, order.change)
    page = quotes_of_job(contract.job_id)
    assert page.contract_sum == 480
    assert [(row.effect, row.contract_sum_after) for row in page.changes] == [(-20, 480)]


def test_the_paper_says_the_effect_and_the_sum_before_and_after(contract, owner):
    order = order_for(contract, owner)
    make.quote_line(80, quote=order, kind="labour", hours=Decimal(12), unit_cost=Decimal(10))
    paper = paper_of(issuing.issue(quote=order, person=owner))
    assert (paper.kind, paper.without_tax) == ("Change order", 120)
    assert (paper.change.contract_sum_before, paper.contract_sum_after) == (500, 620)
    assert (paper.change.hours, paper.change.days) == (12, Decimal("1.5"))


def test_a_refused_change_leaves_budget_and_contract_alone(contract, owner):
    order = order_for(contract, owner)
    make.quote_line(80, quote=order)
    make.answer(issuing.issue(quote=order, person=owner), says="declined")
    assert Change.objects.get().state == "refused"
    assert quotes_of_job(contract.job_id).contract_sum == 500


def test_no_more_is_left_out_than_is_left(contract, owner):
    order = order_for(contract, owner)
    line = contract.lines.first()
    changes.omit_line(order=order, line=line, percent=Decimal(70), person=owner)
    with pytest.raises(RefusedError, match="30 % is left"):
        changes.omit_line(order=order, line=line, percent=Decimal(31), person=owner)


def test_only_what_is_agreed_is_left_out(contract, owner):
    order = order_for(contract, owner)
    with pytest.raises(RefusedError, match="not agreed"):
        changes.omit_line(
            order=order,
            line=make.quote_line(quote=make.quote(job=contract.job)),
            percent=Decimal(100),
            person=owner,
        )


def test_what_was_said_aloud_is_confirmed_when_the_order_goes_out(contract, maker, owner):
    change = changes.raise_change(
        job=contract.job,
        person=maker,
        title="Hook by the door",
        given_by="Cleo",
        given_on=date(2026, 3, 2),
        words="Put a hook by the door.",
    )
    order = changes.price_change(change=change, person=owner)
    make.quote_line(5, quote=order)
    paper = paper_of(issuing.issue(quote=order, person=owner))
    assert "Put a hook by the door." in paper.change.instruction
    assert ChangeNote.objects.get().confirmed_at is not None


def test_a_change_taken_back_is_withdrawn_in_the_register(contract, owner):
    order = order_for(contract, owner)
    make.quote_line(5, quote=order)
    issuing.withdraw(quote=issuing.issue(quote=order, person=owner), person=owner)
    assert Change.objects.get().state == "withdrawn"


def test_a_sum_is_settled_at_its_actual_cost_with_its_profit(owner):
    draft = make.quote(profit={"provisional_sum": {"basis": "markup", "percent": "10"}})
    make.quote_line(400, quote=draft, kind="provisional_sum", description="Electrician")
    contract = make.answer(issuing.issue(quote=draft, person=owner)).quote
    order = order_for(contract, owner, "Settle the electrician")
    changes.omit_line(
        order=order,
        line=contract.lines.get(),
        percent=Decimal(100),
        actual_cost=Decimal("463.50"),
        person=owner,
    )
    paper = paper_of(issuing.issue(quote=order, person=owner))
    assert paper.without_tax == Decimal("69.85")  # 509.85 in place of 440.00


def test_only_a_sum_is_settled(contract, owner):
    with pytest.raises(RefusedError, match="Only a prime cost sum"):
        changes.omit_line(
            order=order_for(contract, owner),
            line=contract.lines.first(),
            percent=Decimal(100),
            actual_cost=Decimal(1),
            person=owner,
        )


def test_a_line_left_out_takes_its_share_of_the_discount_with_it(owner):
    contract = make.answer(make.issued_quote(400, 600, discount_percent=Decimal(10))).quote
    order = order_for(contract, owner)
    changes.omit_line(order=order, line=contract.lines.first(), percent=Decimal(100), person=owner)
    make.answer(issuing.issue(quote=order, person=owner))
    assert quotes_of_job(contract.job_id).contract_sum == 540  # 900 less 400 less a tenth of it
    rest = order_for(contract, owner, "Nothing at all")
    changes.omit_line(order=rest, line=contract.lines.last(), percent=Decimal(100), person=owner)
    make.answer(issuing.issue(quote=rest, person=owner))
    assert quotes_of_job(contract.job_id).contract_sum == 0
    assert sum(BudgetEntry.objects.values_list("price", flat=True)) == 0


@pytest.mark.parametrize(("spent", "contract_sum"), [("400", "900"), ("500", "990"), ("0", "540")])
def test_a_discounted_sum_is_settled_less_the_same_discount(owner, spent, contract_sum):
    draft = make.quote(discount_percent=Decimal(10))
    hearth = make.quote_line(400, quote=draft, kind="provisional_sum")
    make.quote_line(600, quote=draft)
    contract = make.answer(issuing.issue(quote=draft, person=owner)).quote
    order = order_for(contract, owner)
    changes.omit_line(
        order=order,
        line=contract.lines.get(pk=hearth.pk),
        percent=Decimal(100),
        actual_cost=Decimal(spent),
        person=owner,
    )
    make.answer(issuing.issue(quote=order, person=owner))
    assert quotes_of_job(contract.job_id).contract_sum == Decimal(contract_sum)


def test_two_orders_drawn_up_side_by_side_leave_a_line_out_once(contract, owner):
    line = contract.lines.first()
    first, second = (order_for(contract, owner, title) for title in ("One", "Two"))
    for order in (first, second):
        changes.omit_line(order=order, line=line, percent=Decimal(60), person=owner)
    second = issuing.issue(quote=second, person=owner)
    with pytest.raises(RefusedError, match="40 % is left"):
        issuing.issue(quote=first, person=owner)
    Quote.objects.filter(pk=second.pk).update(state="lapsed")
    first = issuing.issue(quote=first, person=owner)
    with pytest.raises(RefusedError, match="40 % is left"):
        issuing.extend(quote=second, days=30, person=owner)
    make.answer(first)
    Quote.objects.filter(pk=second.pk).update(state="issued")
    with pytest.raises(RefusedError, match="40 % is left"):
        make.answer(second)


def test_an_order_that_went_out_can_be_revised_with_what_it_leaves_out(contract, owner):
    order = order_for(contract, owner)
    changes.omit_line(order=order, line=contract.lines.first(), percent=Decimal(100), person=owner)
    order = issuing.issue(quote=order, person=owner)
    again = issuing.issue(quote=drafting.revise(quote=order, person=owner), person=owner)
    make.answer(again)
    assert quotes_of_job(contract.job_id).contract_sum == 300


@pytest.mark.parametrize("detail", ["items", "phases", "one_sum"])
def test_what_is_left_out_is_named_to_the_client_whatever_the_detail(contract, owner, as_stranger, detail):
    QuoteLine.objects.filter(pk=contract.lines.first().pk).update(description="Plate shelf")
    order = order_for(contract, owner)
    changes.omit_line(order=order, line=contract.lines.first(), percent=Decimal(40), person=owner)
    Quote.objects.filter(pk=order.pk).update(detail=detail)
    order = issuing.issue(quote=Quote.objects.get(pk=order.pk), person=owner)
    page = as_stranger.get(reverse("quotes:link", args=[make.link_to(order)]))
    assert says(page, "Plate shelf", "40 % omitted")
    text = PdfReader(io.BytesIO(order.document.content)).pages[0].extract_text()
    assert "Plate shelf" in text
    assert "40 % omitted" in text
