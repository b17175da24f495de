"""Behind the link: no account, no cost, no cache, and nothing but the client's own quote."""

from __future__ import annotations

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from quotes.models import ClientLink, Decision, Knock, LinkEvent, Message, Quote
from quotes.services import drafting, issuing, links
from quotes.services.links import KNOCKS_A_MINUTE, hash_of
from tests import make
from tests.checks import queries_of, says

pytestmark = pytest.mark.usefixtures("workshop")
SECRET_COST = "43.21"
# Hashes, tokens, keys and numbers, which may hold any figure.
GIVEN_IN_TURN = [
    r"[0-9a-f]{64}",
    r"name=\"csrfmiddlewaretoken\"[^>]*",
    r"ll_token\": \"[^\"]*",
    r"/link/[^/]*",
    r"(Client |Phase |Job |\bQ|\d-)\d+",
    r"value=\"\d+\"",
    r"'key': '\d+'",
]


@pytest.fixture
def quote():
    draft = make.quote(profit={"material": {"basis": "margin", "percent": "37"}}, title="Alcove bookcase")
    make.quote_line(SECRET_COST, quote=draft, description="Oak board")
    make.quote_line(40, quote=draft, description="Lamps", optional=True)
    return issuing.issue(quote=draft, person=make.person(role="owner"))


@pytest.fixture
def link(quote):
    return reverse("quotes:link", args=[make.link_to(quote)])


def accept(browser, link, quote, **fields):
    form = {"name": "Cleo Client", "agrees": "on", "sha256": quote.document.sha256}
    return browser.post(f"{link}accept/", form | fields)


def test_the_page_shows_the_offer_without_log_in(client, link):
    page = client.get(link)
    assert says(page, "Alcove bookcase", "Oak board", "£68.59", "Lamps")


def test_neither_cost_nor_margin_is_on_page_part_or_paper(client, link, quote):
    pages = [client.get(link), client.get(link, headers={"HX-Request": "true"})]
    shown = " ".join(page.content.decode() for page in pages) + str(quote.snapshot["paper"])
    for given in GIVEN_IN_TURN:
        shown = re.sub(given, "", shown)
    for secret in (SECRET_COST, "37", "margin", "markup", "overhead", "contingency", "unit_cost"):
        assert not re.search(rf"(?<!\d){secret}(?!\d)", shown), secret


def test_the_answer_is_neither_kept_nor_indexed_nor_passed_on(client, link):
    for address in (link, f"{link}paper/"):
        headers = client.get(address).headers
        assert "no-store" in headers["Cache-Control"]
        assert "noindex" in headers["X-Robots-Tag"]
        assert headers["Referrer-Policy"] == "same-origin"


def test_only_the_hash_of_the_token_is_kept(quote):
    token = make.link_to(quote)
    assert len(token) >= 32
    assert ClientLink.objects.get().token_hash == hash_of(token) != token


@pytest.mark.parametrize("what", ["guessed", "withdrawn", "expired"])
def test_a_link_that_opens_nothing_says_the_same_whatever_the_cause(client, link, owner, quote, what):
    address = link
    if what == "guessed":
        address = reverse("quotes:link", args=["not-a-token"])
    elif what == "withdrawn":
        links.withdraw_links(quote=quote, person=owner)
    else:
        ClientLink.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    page = client.get(address)
    assert page.status_code == 404
    assert says(page, "This link opens nothing")
    assert not says(page, "Alcove")


def test_a_new_link_shuts_the_old_one(client, link, quote):
    make.link_to(quote)
    assert client.get(link).status_code == 404


def test_one_address_cannot_try_tokens_all_day(client, link):
    client.get(link)
    Knock.objects.update(count=KNOCKS_A_MINUTE)
    assert client.get(link).status_code == 429


def test_ticked_extras_move_the_total_and_nothing_else(client, link, quote):
    extra = quote.lines.get(optional=True)
    part = client.get(link, {"extra": extra.pk}, headers={"HX-Request": "true"})
    assert says(part, "£132.08", "£158.50")
    assert not Decision.objects.exists()


@pytest.fixture
def worktops():
    """Two worktops of which one can be had, and lamps beside."""
    draft = make.quote(title="Galley")
    make.quote_line(100, quote=draft, description="Carcases")
    make.quote_line(40, quote=draft, description="Lamps", optional=True, group="Light")
    for wood, cost in (("Oak", 60), ("Ash", 50)):
        make.quote_line(cost, quote=draft, description=wood, optional=True, group="Worktop")
    return issuing.issue(quote=draft, person=make.person(role="owner"))


def test_of_alternatives_one_or_none_can_be_chosen(client, worktops):
    link = reverse("quotes:link", args=[make.link_to(worktops)])
    html = client.get(link).text
    assert re.findall(r'<input type="(\w+)" name="(\w+)" value="\d*"( checked)?', html) == [
        ("checkbox", "extra", ""),  # an alternative of nothing is an extra like any other
        ("radio", "one_of_1", " checked"),
        ("radio", "one_of_1", ""),
        ("radio", "one_of_1", ""),
    ]
    oak, lamps = (worktops.lines.get(description=name).pk for name in ("Oak", "Lamps"))
    sent = {"extra": lamps, "one_of_1": oak}
    assert says(client.get(link, sent, headers={"HX-Request": "true"}), "£200.00", "£240.00")
    sent = {"extra": "", "one_of_1": ""}
    assert says(client.get(link, sent, headers={"HX-Request": "true"}), "£100.00", "£120.00")
    accept(client, link, worktops, one_of_1=oak)
    assert [one["key"] for one in Decision.objects.get().options] == [str(oak)]
    assert re.search(rf'value="{oak}" checked disabled', client.get(link).text)


def test_two_of_a_group_are_refused_however_they_are_sent(client, worktops):
    link = reverse("quotes:link", args=[make.link_to(worktops)])
    both = [line.pk for line in worktops.lines.filter(group="Worktop")]
    assert says(accept(client, link, worktops, extra=both), "Only one of the alternatives")
    assert not Decision.objects.exists()


def test_a_link_reaches_no_other_quote(client, link):
    other = make.issued_quote(title="Somebody else's")
    assert client.get(f"{link}revision/{other.revision + 1}/").status_code == 404


def test_accepting_shows_thanks_and_the_evidence(client, link, quote):
    answer = accept(client, link, quote, extra=quote.lines.get(optional=True).pk)
    assert answer.status_code == 302
    page = client.get(answer.headers["Location"])
    assert says(page, "Accepted", "Cleo Client", "£158.50")
    assert client.get(f"{link}evidence/").headers["Content-Type"] == "application/pdf"


def test_accepting_twice_is_one_answer(client, link, quote):
    assert accept(client, link, quote).status_code == accept(client, link, quote).status_code == 302
    assert Decision.objects.count() == 1


@pytest.mark.parametrize("missing", ["name", "agrees"])
def test_a_yes_without_name_or_tick_keeps_what_was_typed(client, link, quote, missing):
    extra = quote.lines.get(optional=True)
    answer = accept(client, link, quote, **{missing: "", "extra": extra.pk})
    assert says(answer, "Please", "checked")
    assert not Decision.objects.exists()


def test_a_lapsed_offer_says_so_and_takes_no_answer(client, link, quote):
    Quote.objects.update(valid_until=timezone.localdate() - timedelta(days=1))
    assert says(client.get(link), "lapsed")
    assert says(accept(client, link, quote), "lapsed")
    assert not Decision.objects.exists()
    assert LinkEvent.objects.filter(step="refused").exists()


def test_declining_keeps_the_reason(client, link, quote):
    form = {"name": "Cleo", "reason": "Too dear", "sha256": quote.document.sha256}
    assert client.post(f"{link}decline/", form).status_code == 302
    assert says(client.get(link), "Declined")
    assert Decision.objects.get().reason == "Too dear"


def test_a_question_and_its_answer_stand_on_the_page(client, link, quote, as_owner):
    for _ in range(2):
        client.post(f"{link}ask/", {"name": "Cleo", "text": "Which oak?"})
    assert Message.objects.count() == 1
    as_owner.post(reverse("quotes:answer_question", args=[quote.pk]), {"text": "European."})
    assert says(client.get(link), "Which oak?", "European.")


@pytest.mark.parametrize("text", ["", "   ", "x" * 4001])
def test_a_question_of_nothing_or_of_a_book_is_refused(client, link, text):
    assert client.post(f"{link}ask/", {"text": text}).status_code == 200
    assert not Message.objects.exists()


def test_an_old_link_points_on_to_the_new_revision(client, link, quote, owner):
    issuing.issue(quote=drafting.revise(quote=quote, person=owner), person=owner)
    later = f"{link}revision/2/"
    assert says(client.get(link), "replaced", later)
    assert says(client.get(later), "revision 2")
    assert says(accept(client, link, quote), "superseded")


def test_the_client_follows_the_progress_if_the_maker_lets_them(client, link, quote):
    Quote.objects.update(shows_progress=True)
    quote.job.phases.update(percent_done=Decimal(40))
    assert not says(client.get(link), "How far we are")
    accept(client, link, quote)
    assert says(client.get(link), "How far we are", "40")


def test_what_happened_is_written_in_the_trail(client, link):
    client.get(link, headers={"User-Agent": "A phone"})
    client.get(f"{link}paper/")
    assert list(LinkEvent.objects.values_list("step", flat=True)) == ["made", "opened", "read_pdf"]
    assert LinkEvent.objects.filter(browser="A phone", address="127.0.0.1").exists()


@pytest.mark.parametrize("step", ["accept", "decline", "ask"])
def test_nothing_changes_by_get(client, link, step):
    assert client.get(f"{link}{step}/").status_code == 405


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow_with_lines(client, count):
    quote = make.issued_quote(*range(100, 100 + count))
    link = reverse("quotes:link", args=[make.link_to(quote)])
    client.get(link)
    assert queries_of(client, link) == 10
