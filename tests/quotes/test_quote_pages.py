"""A job's quotes, what became of one, sending, comparing, changes."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import Change, Outbox
from quotes.links_of_job import find_quotes
from quotes.models import ClientLink, Decision, Quote
from quotes.services import drafting, issuing
from tests import make
from tests.checks import queries_of, says

pytestmark = pytest.mark.usefixtures("workshop")


def at(name, thing):
    return reverse(f"quotes:{name}", args=[thing.pk])


def test_from_the_job_to_a_draft_and_out_to_the_client(as_owner):
    phase = make.phase()
    as_owner.post(at("start", phase.job))
    draft = Quote.objects.get()
    make.quote_line(quote=draft, phase=phase)
    as_owner.post(at("issue", draft))
    answer = as_owner.post(
        at("send", draft), {"to": "client@example.org", "words": "Dear client"}, follow=True
    )
    assert says(answer, "/quotes/link/")
    letter = Outbox.objects.get()
    assert "/quotes/link/" in letter.text
    assert letter.attachments.get().name == f"{draft.number} revision 1.pdf"


def test_an_issue_that_is_refused_says_why_on_the_desk(as_owner):
    draft = make.quote()
    answer = as_owner.post(at("issue", draft), follow=True)
    assert says(answer, "nothing on it")


def test_a_draft_is_not_sent(as_owner):
    answer = as_owner.post(
        at("send", make.quote_line().quote), {"to": "client@example.org", "words": "Dear client"}
    )
    assert says(answer, "Issue it before")
    assert not Outbox.objects.exists()


@pytest.mark.parametrize("to", ["", "not an address"])
def test_an_address_that_is_none_keeps_the_words(as_owner, to):
    answer = as_owner.post(at("send", make.issued_quote()), {"to": to, "words": "My own words"})
    assert says(answer, "My own words", "amiss")


def test_the_paper_of_a_draft_is_a_pdf_and_changes_nothing(as_owner):
    draft = make.quote_line().quote
    paper = as_owner.get(at("paper", draft))
    assert paper.content.startswith(b"%PDF")
    assert Quote.objects.get().is_draft


def test_an_issued_paper_is_handed_out_byte_for_byte(as_owner):
    quote = make.issued_quote()
    assert as_owner.get(at("paper", quote)).content == bytes(quote.document.content)


def test_a_link_is_made_shown_once_and_shut(as_owner):
    quote = make.issued_quote()
    assert says(as_owner.post(at("make_link", quote), follow=True), "/quotes/link/")
    assert not says(as_owner.get(at("sheet", quote)), "/quotes/link/")
    as_owner.post(at("withdraw_links", quote))
    assert ClientLink.objects.get().withdrawn_at is not None


def test_a_lapsed_quote_is_extended(as_owner):
    quote = make.issued_quote()
    Quote.objects.update(valid_until=timezone.localdate() - timedelta(days=2))
    assert says(as_owner.get(at("sheet", quote)), "lapsed")
    as_owner.post(at("extend", quote), {"days": "10"})
    assert Quote.objects.get().valid_until == timezone.localdate() + timedelta(days=10)


def test_an_answer_by_letter_is_entered(as_owner):
    quote = make.issued_quote()
    as_owner.post(at("record_answer", quote), {"answer": "accepted", "name": "Cleo", "reason": "by post"})
    assert says(as_owner.get(at("sheet", quote)), "Accepted by Cleo", "by post")


def test_an_answer_by_letter_without_a_name_keeps_what_was_typed(as_owner):
    quote = make.issued_quote()
    page = as_owner.post(at("record_answer", quote), {"answer": "declined", "name": "", "reason": "typed"})
    assert says(page, "typed", "amiss")


def test_two_revisions_are_compared_line_by_line(as_owner, owner):
    first = make.issued_quote(100, 50)
    second = drafting.revise(quote=first, person=owner)
    line = second.lines.get(unit_cost=50)
    line.unit_cost = Decimal(80)
    line.description = "Ash"
    line.save()
    page = as_owner.get(at("compare", second))
    assert says(page, "Ash", "not there", "taken off", "£30.00")


def test_a_change_is_written_down_by_the_maker_who_sees_no_price(as_maker):
    job = make.job()
    form = {"title": "Hook by the door", "given_by": "Cleo", "words": "Put up a hook", "rough_hours": "0.5"}
    answer = as_maker.post(at("raise_change", job), form)
    assert answer.headers["Location"] == reverse("quotes:change", args=[Change.objects.get().pk])
    assert Change.objects.get().note.rough_hours == Decimal("0.5")


def test_words_that_nobody_said_are_asked_about(as_maker):
    answer = as_maker.post(at("raise_change", make.job()), {"title": "Hook", "words": "Put up a hook"})
    assert says(answer, "who said it", "Put up a hook")


def test_a_change_is_priced_and_something_left_out(as_owner):
    contract = make.answer(make.issued_quote(100)).quote
    change = make.change(job=contract.job, number=1)
    as_owner.post(at("price_change", change))
    order = Quote.objects.get(change=change)
    as_owner.post(at("omit", order), {"line": contract.lines.get().pk, "percent": "25"})
    assert says(as_owner.get(at("desk", order)), "omitted", "−£25.00")


def test_more_than_all_is_not_left_out(as_owner):
    contract = make.answer(make.issued_quote(100)).quote
    order = make.quote(job=contract.job, change=make.change(job=contract.job))
    answer = as_owner.post(at("omit", order), {"line": contract.lines.get().pk, "percent": "101"})
    assert says(answer, "amiss")


def test_each_quote_of_a_job_says_what_was_offered(as_owner):
    issued = make.issued_quote(1234)
    make.quote(job=issued.job, number="Q-draft")
    answer = as_owner.get(reverse("quotes:of_job", args=[issued.job_id]))
    assert [offered for _, offered in answer.context["page"].rows] == [None, Decimal("1234.00")]
    assert says(answer, "£1,234.00")


@pytest.mark.parametrize("count", [1, 3])
def test_queries_of_a_jobs_quotes_do_not_grow(as_owner, count):
    job = make.phase().job
    for at_number in range(count):
        make.quote(job=job, number=f"Q{at_number}")
        change = make.change(job=job)
        make.quote(job=job, change=change, number=f"CO{at_number}")
    assert queries_of(as_owner, reverse("quotes:of_job", args=[job.pk])) == 7


@pytest.mark.parametrize("count", [1, 3])
def test_queries_of_a_quotes_sheet_do_not_grow(as_owner, count):
    quote = make.issued_quote(*range(1, 1 + count))
    for _ in range(count):
        make.link_to(quote)
    assert queries_of(as_owner, at("sheet", quote)) == 10


def test_quotes_are_found_by_those_who_see_prices(owner, maker):
    make.quote_line(quote=make.quote(title="Narrowboat galley", job=make.phase().job))
    assert "Narrowboat galley" in find_quotes("galley", owner)[0].title
    assert find_quotes("galley", maker) == []


def test_a_letter_that_failed_is_shown_and_sent_again(as_owner):
    letter = make.letter(last_error="no answer", attempts=2, try_after=timezone.now() + timedelta(hours=1))
    assert says(as_owner.get(reverse("quotes:letters")), "failed 2 times", "no answer")
    as_owner.post(at("send_again", letter))
    letter.refresh_from_db()
    assert letter.try_after is None


@pytest.mark.parametrize("count", [1, 3])
def test_queries_of_the_letters_do_not_grow(as_owner, count):
    for _ in range(count):
        make.letter(job=make.job())
    assert queries_of(as_owner, reverse("quotes:letters")) == 4


def test_an_answer_on_paper_takes_its_extras_along(as_owner, owner):
    draft = make.quote()
    make.quote_line(100, quote=draft)
    extra = make.quote_line(20, quote=draft, description="Knobs", optional=True)
    quote = issuing.issue(quote=draft, person=owner)
    assert says(as_owner.get(at("sheet", quote)), "Extras chosen with it", "Knobs")
    as_owner.post(
        at("record_answer", quote), {"answer": "accepted", "name": "Cleo", "extras": [str(extra.pk)]}
    )
    decision = Decision.objects.get()
    assert decision.totals["with_tax"] == "144.00"
    assert [option["description"] for option in decision.options] == ["Knobs"]


def test_an_extra_that_is_not_offered_is_refused_on_paper_too(as_owner, owner):
    draft = make.quote()
    make.quote_line(100, quote=draft)
    make.quote_line(20, quote=draft, optional=True)
    quote = issuing.issue(quote=draft, person=owner)
    answer = as_owner.post(
        at("record_answer", quote), {"answer": "accepted", "name": "Cleo", "extras": ["999"]}
    )
    assert says(answer, "amiss", "Cleo")
    assert not Decision.objects.exists()


def test_the_maker_lets_the_client_follow_the_progress_and_stops(as_owner):
    quote = make.answer().quote
    for word, shows in [("yes", True), ("yes", True), ("no", False)]:
        as_owner.post(at("show_progress", quote), {"shows": word})
        assert Quote.objects.get().shows_progress is shows


def test_there_is_no_progress_before_a_yes(as_owner):
    answer = as_owner.post(at("show_progress", make.issued_quote()), {"shows": "yes"}, follow=True)
    assert says(answer, "once it is accepted")
