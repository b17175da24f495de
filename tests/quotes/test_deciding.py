"""A yes and a no, with their evidence, and what a yes writes into the budget."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.enums import JobState
from jobs.models import BudgetEntry, Outbox, Phase, Workshop
from jobs.refusals import RefusedError
from jobs.services.jobs import move_job
from quotes.enums import Answer
from quotes.models import Decision, LinkEvent, Quote
from quotes.papers.evidence import evidence_of
from quotes.queries.changes import agreed_lines
from quotes.queries.quotes import quotes_of_job
from quotes.services import changes, deciding, drafting, issuing, links
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


def two_phases():
    quote = make.quote(contingency_percent=Decimal(10), discount_percent=Decimal(3))
    lining, bunk = quote.job.phases.get(), make.phase(job=quote.job)
    make.quote_line(20, quote=quote, phase=lining, kind="labour", hours=Decimal(7), quantity=1, mass_kg=0)
    make.quote_line(33, quote=quote, phase=lining, quantity=Decimal(3), mass_kg=Decimal(12))
    make.quote_line(50, quote=quote, phase=bunk, kind="hire")
    return issuing.issue(quote=quote, person=make.person(role="owner"))


def test_a_yes_keeps_who_when_from_where_and_to_what():
    decision = make.answer(name="  Cleo Client ")
    assert (decision.name, decision.address, decision.browser) == ("Cleo Client", "192.0.2.7", "A browser")
    assert decision.document_sha256 == decision.quote.document.sha256
    assert decision.totals["with_tax"] == "120.00"
    (rate,) = decision.totals["by_rate"]
    assert (rate["category"], rate["taxable"]) == ("S", "100.00")
    assert LinkEvent.objects.filter(step="accepted", quote=decision.quote).exists()


def test_a_yes_makes_the_job_won_and_writes_the_budget_of_each_phase():
    quote = make.answer(two_phases()).quote
    quote.job.refresh_from_db()
    assert quote.job.state == JobState.WON
    lining, bunk = BudgetEntry.objects.order_by("pk")
    assert (lining.hours, lining.labour_cost, lining.material_cost, lining.mass_kg) == (7, 140, 99, 12)
    assert (bunk.other_cost, bunk.labour_cost) == (50, 0)


def test_budget_prices_add_up_to_the_contract_sum_after_the_discount():
    decision = make.answer(two_phases())
    prices = BudgetEntry.objects.values_list("price", flat=True)
    # (140 + 99 + 50) × 1.10 = 317.90; less 3 % (9.54) is 308.36
    assert sum(prices) == Decimal(decision.totals["without_tax"]) == Decimal("308.36")


def test_a_second_yes_is_the_first_one_again():
    quote = make.issued_quote()
    first = make.answer(quote)
    assert make.answer(quote) == first
    assert BudgetEntry.objects.count() == Decision.objects.count() == 1
    assert Outbox.objects.filter(key=f"answer {quote.pk}").count() == 0  # the workshop has no address


def test_the_workshop_is_told_once():
    Workshop.objects.update(email="workshop@example.org")
    make.answer()
    assert Outbox.objects.get(to="workshop@example.org").subject.endswith("accepted by Cleo Client")


def test_a_yes_with_extras_counts_them():
    quote = make.quote()
    make.quote_line(100, quote=quote)
    extra = make.quote_line(40, quote=quote, optional=True, description="Lamps")
    make.quote_line(60, quote=quote, optional=True)
    issuing.issue(quote=quote, person=make.person(role="owner"))
    decision = make.answer(Quote.objects.get(pk=quote.pk), options=frozenset({str(extra.pk)}))
    assert decision.totals["with_tax"] == "168.00"
    assert [option["description"] for option in decision.options] == ["Lamps"]
    assert BudgetEntry.objects.get().price == 140


def test_an_extra_that_is_not_offered_is_refused():
    with pytest.raises(RefusedError, match="not offered"):
        make.answer(options=frozenset({"999999"}))
    assert not Decision.objects.exists()


def test_two_alternatives_of_one_group_are_refused():
    quote = make.quote()
    make.quote_line(quote=quote)
    both = [make.quote_line(quote=quote, optional=True, group="worktop") for _ in range(2)]
    issuing.issue(quote=quote, person=make.person(role="owner"))
    with pytest.raises(RefusedError, match="worktop"):
        make.answer(Quote.objects.get(pk=quote.pk), options=frozenset(str(line.pk) for line in both))


def test_a_no_keeps_its_reason_and_writes_no_budget():
    decision = make.answer(says="declined", reason="Too dear")
    assert decision.reason == "Too dear"
    assert Quote.objects.get().state == "declined"
    assert not BudgetEntry.objects.exists()


@pytest.mark.parametrize("state", ["superseded", "withdrawn", "declined", "lapsed"])
def test_what_no_longer_waits_cannot_be_accepted(state):
    quote = make.issued_quote()
    Quote.objects.update(state=state)
    with pytest.raises(RefusedError, match="answered any more"):
        make.answer(quote)


def test_a_lapsed_quote_cannot_be_accepted():
    quote = make.issued_quote()
    Quote.objects.update(valid_until=timezone.localdate() - timedelta(days=1))
    with pytest.raises(RefusedError, match="lapsed"):
        make.answer(quote)


def test_on_its_last_day_it_can():
    quote = make.issued_quote()
    Quote.objects.update(valid_until=timezone.localdate())
    assert make.answer(quote).answer == "accepted"


def test_another_document_than_the_one_that_stands_is_refused():
    with pytest.raises(RefusedError, match="document has changed"):
        make.answer(document_sha256="0" * 64)


@pytest.mark.parametrize("name", ["", "   ", "x" * 121])
def test_a_yes_needs_a_name(name):
    with pytest.raises(RefusedError, match="name"):
        make.answer(name=name)


def test_a_link_shut_at_that_moment_refuses_the_yes(owner):
    from quotes.queries.client_page import open_link

    quote = make.issued_quote()
    link = open_link(make.link_to(quote))
    links.withdraw_links(quote=quote, person=owner)
    reply = deciding.Reply("Cleo", quote.document.sha256)
    with pytest.raises(RefusedError, match="withdrawn"):
        deciding.accept(link=link, quote=quote, reply=reply, caller=links.Caller())


def test_a_link_of_an_old_revision_accepts_the_new_one(owner):
    first = make.issued_quote(by=owner)
    token = make.link_to(first)
    second = issuing.issue(quote=drafting.revise(quote=first, person=owner), person=owner)
    from quotes.queries.client_page import open_link, quote_of_link

    link = open_link(token)
    assert quote_of_link(link, 2) == second
    assert quote_of_link(link, 3) is None


def test_an_answer_by_letter_is_entered_by_a_person(owner):
    quote = make.issued_quote()
    decision = deciding.record_answer_on_paper(
        quote=quote,
        person=owner,
        answer=Answer.ACCEPTED,
        reply=deciding.Reply("Cleo", "", reason="by letter"),
    )
    assert (decision.recorded_by, decision.address) == (owner, "")
    assert Phase.objects.get().budget_entries.count() == 1


def test_the_evidence_sheet_is_drawn_once():
    decision = make.answer()
    first = evidence_of(decision)
    assert evidence_of(Decision.objects.get()) == first
    assert bytes(first.content).startswith(b"%PDF")


def test_a_revision_drawn_up_before_the_yes_cannot_be_agreed_beside_it(owner):
    quote = make.issued_quote(1000)
    later = drafting.revise(quote=quote, person=owner)
    make.answer(quote)
    later.refresh_from_db()
    assert later.state == "withdrawn"
    Quote.objects.filter(pk=later.pk).update(state="draft")  # as it stood before drafts were dropped
    with pytest.raises(RefusedError, match="Revision 1 of it is agreed"):
        issuing.issue(quote=later, person=owner)
    assert sum(BudgetEntry.objects.values_list("price", flat=True)) == 1000


def test_of_two_revisions_that_are_out_only_one_is_agreed(owner):
    quote = make.issued_quote(1000)
    later = issuing.issue(quote=drafting.revise(quote=quote, person=owner), person=owner)
    Quote.objects.filter(pk=quote.pk).update(state="accepted")
    with pytest.raises(RefusedError, match="Revision 1 of it is agreed"):
        make.answer(later)
    with pytest.raises(RefusedError, match="Revision 1 of it is agreed"):
        deciding.record_answer_on_paper(
            quote=later, person=owner, answer=Answer.ACCEPTED, reply=deciding.Reply("Cleo Client", "")
        )
    with pytest.raises(RefusedError, match="Revision 1 of it is agreed"):
        issuing.extend(quote=later, days=30, person=owner)


def test_a_change_whose_order_is_out_stays_out_when_its_next_draft_is_withdrawn(owner):
    change = changes.raise_change(job=make.answer().quote.job, person=owner, title="Second shelf")
    order = changes.price_change(change=change, person=owner)
    make.quote_line(80, quote=order)
    order = issuing.issue(quote=order, person=owner)
    issuing.withdraw(quote=drafting.revise(quote=order, person=owner), person=owner)
    change.refresh_from_db()
    assert change.state == "issued"
    issuing.withdraw(quote=order, person=owner)
    change.refresh_from_db()
    assert change.state == "withdrawn"


def test_the_extras_agreed_stay_chosen_and_no_others(owner, as_owner):
    draft = make.quote()
    make.quote_line(1000, quote=draft)
    rack = make.quote_line(100, quote=draft, optional=True, description="Spice rack")
    shelf = make.quote_line(50, quote=draft, optional=True, chosen=True, description="Plate shelf")
    quote = make.answer(issuing.issue(quote=draft, person=owner), options=[str(rack.pk)]).quote
    assert list(quote.lines.values_list("pk", "chosen")[1:]) == [(rack.pk, True), (shelf.pk, False)]
    desk = as_owner.get(quote.get_absolute_url()).context["desk"]
    assert desk.priced.totals.without_tax == 1100
    order = changes.price_change(
        change=changes.raise_change(job=quote.job, person=owner, title="No rack"), person=owner
    )
    assert set(agreed_lines(quote.job_id)) == {quote.lines.first(), rack}
    with pytest.raises(RefusedError, match="not agreed"):
        changes.omit_line(order=order, line=quote.lines.last(), percent=Decimal(100), person=owner)
    changes.omit_line(order=order, line=quote.lines.get(pk=rack.pk), percent=Decimal(100), person=owner)
    make.answer(issuing.issue(quote=order, person=owner))
    assert quotes_of_job(quote.job_id).contract_sum == 1000


def test_a_yes_wins_a_job_that_was_given_up_for_lost(owner):
    quote = make.issued_quote()
    move_job(quote.job, to=JobState.LOST, person=owner)
    make.answer(quote)
    quote.job.refresh_from_db()
    assert quote.job.state == JobState.WON
