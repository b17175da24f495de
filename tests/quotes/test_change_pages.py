"""A change in a minute from the phone, with its picture; who sees the picture, and on which paper."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from jobs.models import Change
from jobs.photos import read_picture
from quotes.models import ChangeNote
from quotes.papers.drawing import paper_html
from quotes.queries.sheet import paper_of
from quotes.services import changes, issuing
from tests import make
from tests.checks import queries_of, says
from tests.pictures import picture

pytestmark = pytest.mark.usefixtures("workshop")


def sent(content=None, name="phone.jpg"):
    return SimpleUploadedFile(name, picture() if content is None else content, content_type="image/jpeg")


def at(name, thing):
    return reverse(f"quotes:{name}", args=[thing.pk])


def raised(browser, job, **fields):
    return browser.post(at("raise_change", job), {"title": "A hatch", "rough_hours": "2", **fields})


def issued_with(owner, **fields):
    """A change order that went out, its change noted with these fields."""
    contract = make.answer(make.issued_quote(100)).quote
    change = make.change_with_picture(job=contract.job, **fields)
    order = changes.price_change(change=change, person=owner)
    make.quote_line(50, quote=order)
    return issuing.issue(quote=order, person=owner)


def test_a_maker_writes_a_change_down_with_a_picture(as_maker):
    answer = raised(as_maker, make.job(), picture=sent(), shows_photo="on")
    note = ChangeNote.objects.get()
    assert (note.photo.width, note.shows_photo) == (40, True)
    page = as_maker.get(answer.headers["Location"])
    assert says(page, "A hatch", "Nobody has agreed", at("change_picture", note.change))
    shown = as_maker.get(at("change_picture", note.change))
    assert shown.headers["Content-Type"] == "image/jpeg"


def test_a_file_that_is_no_picture_is_refused_beside_its_field(as_maker):
    answer = raised(as_maker, make.job(), picture=sent(b"%PDF-1.7"), reason="Typed before")
    assert says(answer, "no picture", "Typed before")
    assert not Change.objects.exists()


def test_pressed_twice_it_is_one_change(as_maker):
    job, key = make.job(), str(uuid4())
    for _ in range(2):
        raised(as_maker, job, key=key)
    assert Change.objects.count() == 1


def test_a_picture_is_added_later_and_shown_or_kept_back(as_maker):
    change = make.change()
    as_maker.post(at("set_change_picture", change), {"picture": sent(), "shows_photo": "on"})
    as_maker.post(at("set_change_picture", change), {})
    note = ChangeNote.objects.get()
    assert note.photo is not None
    assert not note.shows_photo


def test_a_picture_set_later_that_is_none_is_refused(as_maker):
    change = make.change()
    assert says(as_maker.post(at("set_change_picture", change), {"picture": sent(b"x")}), "no picture")
    assert not ChangeNote.objects.exists()


@pytest.mark.parametrize("name", ["set_change_picture", "raise_change"])
def test_a_bookkeeper_writes_no_change_down(as_bookkeeper, name):
    thing = make.change() if name == "set_change_picture" else make.job()
    assert as_bookkeeper.post(at(name, thing), {"title": "x"}).status_code == 403


def test_setting_a_picture_is_no_link(as_maker):
    assert as_maker.get(at("set_change_picture", make.change())).status_code == 405


@pytest.mark.parametrize("name", ["change", "change_picture", "set_change_picture"])
def test_an_unknown_change_is_not_found(as_maker, name):
    address = reverse(f"quotes:{name}", args=[999])
    assert (as_maker.post if name.startswith("set") else as_maker.get)(address).status_code == 404


def test_a_change_without_a_picture_has_none_to_hand_out(as_owner):
    assert as_owner.get(at("change_picture", make.change())).status_code == 404


def test_the_maker_is_told_no_price(as_maker, owner):
    order = issued_with(owner)
    make.answer(order)
    page = as_maker.get(at("change", order.change))
    assert not says(page, "£")
    assert not says(page, order.number)


@pytest.mark.parametrize("shows", [True, False])
def test_the_client_sees_the_picture_where_the_maker_ticked_it(as_stranger, owner, shows):
    order = issued_with(owner, shows_photo=shows)
    token = make.link_to(order)
    page = as_stranger.get(reverse("quotes:link", args=[token]))
    shown = as_stranger.get(reverse("quotes:link_picture", args=[token]))
    assert ("picture/" in page.content.decode()) is shows
    assert shown.status_code == (200 if shows else 404)
    assert shown.headers["Cache-Control"] == "private, no-store"
    assert ("data:image/jpeg" in paper_html(paper_of(order))) is shows


def test_what_went_out_keeps_its_picture(as_stranger, owner):
    order = issued_with(owner, shows_photo=True)
    other = read_picture(picture(60, 60))
    changes.set_picture(change=order.change, person=owner, picture=other, shows_photo=False)
    token = make.link_to(order)
    shown = as_stranger.get(reverse("quotes:link_picture", args=[token])).content
    assert read_picture(shown).width == 40


def test_queries_of_the_page_are_few(as_owner, owner):
    assert queries_of(as_owner, at("change", issued_with(owner).change)) == 7


def test_a_change_that_came_to_nothing_is_withdrawn(as_maker, as_owner):
    change = make.change(job=make.job())
    address = reverse("quotes:change", args=[change.pk])
    assert says(as_maker.get(address), "Withdraw it")
    for _ in range(2):
        as_maker.post(reverse("quotes:withdraw_change", args=[change.pk]))
    change.refresh_from_db()
    assert change.state == "withdrawn"
    assert not says(as_owner.get(address), "Price it")
    answer = as_owner.post(reverse("quotes:price_change", args=[change.pk]), follow=True)
    assert says(answer, "It was withdrawn")


def test_a_change_that_is_priced_is_withdrawn_with_its_order(as_owner, owner):
    change = make.change(job=make.job())
    order = changes.price_change(change=change, person=owner)
    answer = as_owner.post(reverse("quotes:withdraw_change", args=[change.pk]), follow=True)
    assert says(answer, "Withdraw its change order")
    as_owner.post(reverse("quotes:withdraw", args=[order.pk]))
    change.refresh_from_db()
    assert change.state == "withdrawn"
