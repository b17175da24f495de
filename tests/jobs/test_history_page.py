"""Who changed what, and when: beside every record, to each role what it may know, in settled queries."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from jobs import told
from jobs.history import record
from jobs.models import Client, HistoryEntry, Job, Person, TaxRate, Workshop
from jobs.queries.history_words import changed_fields
from jobs.services.costs import reverse_cost
from jobs.services.hours import Work
from jobs.services.sheets import Hours, correct_entry
from jobs.services.workshop import save_tax_rate
from materials.models import Order, Price, StockItem
from tests import make
from tests.checks import queries_of, says


def _rate() -> Any:
    return make.person().rates.get()


def _order_line() -> Any:
    return make.order().lines.get()


BEGUN = {
    "supports": make.supports,
    "workshop": Workshop.objects.get,
    "taxrate": make.tax_rate,
    "labourrate": make.labour_rate,
    "person": make.person,
    "personrate": _rate,
    "phaselist": make.phase_list,
    "client": make.client,
    "job": make.job,
    "phase": make.phase,
    "change": make.change,
    "timeentry": make.hours,
    "costentry": make.cost,
    "supplier": make.supplier,
    "material": make.material,
    "stocksize": make.size,
    "price": make.price,
    "pricelist": make.price_list,
    "takeoffitem": make.takeoff,
    "cuttingplan": make.plan,
    "stockitem": make.stock_item,
    "order": make.order,
    "orderline": _order_line,
    "quote": make.quote,
    "quoteline": make.quote_line,
    "invoice": make.invoice,
}


def of(thing: Any) -> str:
    return reverse("jobs:history", args=[thing._meta.model_name, thing.pk])


def test_every_kind_that_is_told_is_looked_at_here() -> None:
    assert {kind.record for kind in told.kinds()} == BEGUN.keys()


@pytest.mark.parametrize("kind", BEGUN)
def test_it_opens_for_the_roles_it_is_told_to_and_leads_back(
    kind: str, as_owner: Browser, as_maker: Browser, as_bookkeeper: Browser, owner: Person
) -> None:
    thing = BEGUN[kind]()
    record(person=owner, thing=thing, action="looked over", after={"title": "A title"})
    page = as_owner.get(of(thing))
    assert says(page, "Olive Owner", "looked over", "A title")
    known = told.told(kind)
    assert known is not None
    assert as_owner.get(known.address_of(thing).partition("#")[0]).status_code == 200
    for may, browser in (("maker" in known.roles, as_maker), ("bookkeeper" in known.roles, as_bookkeeper)):
        hidden = 404 if browser is as_maker and known.own else 200
        assert browser.get(of(thing)).status_code == (hidden if may else 403)


def test_what_is_not_told_or_not_there_is_not_found(as_owner: Browser, owner: Person) -> None:
    for record_name, pk in (("session", 1), ("job", 9_999), ("history", 1)):
        assert as_owner.get(reverse("jobs:history", args=[record_name, pk])).status_code == 404
    assert as_owner.post(of(make.job())).status_code == 405


@pytest.mark.parametrize("count", [1, 3])
def test_it_takes_as_many_queries_however_much_was_changed(
    as_owner: Browser, owner: Person, count: int
) -> None:
    job = make.job()
    for at in range(count):
        phase = make.phase(job=job, title=f"Phase {at}")
        record(person=owner, thing=phase, action="added", job=job)
        record(person=owner, thing=job, action="edited", job=job, before={"title": "a"}, after={"title": "b"})
    assert queries_of(as_owner, of(job)) == 8


def test_a_maker_is_told_of_no_money(as_maker: Browser, as_owner: Browser, owner: Person) -> None:
    item: StockItem = make.stock_item()
    before, after = {"value": "12.5", "place": "loft"}, {"value": "17.25", "place": "rack 2"}
    record(person=owner, thing=item, action="edited", before=before, after=after)
    assert says(as_owner.get(of(item)), "£17.25", "rack 2")
    page = as_maker.get(of(item))
    assert says(page, "rack 2", "Amounts of money are left out")
    assert not says(page, "17.25")


def test_what_is_not_known_to_hold_no_money_is_not_told_to_a_maker() -> None:
    changes = {"Board, 2400 mm": ["2 at 10", "3 at 12"], "note": ["", "early"], "amount": [None, "5"]}
    told_to_maker = changed_fields(Order, changes, money=False)
    assert [one.after for one in told_to_maker] == ["early"]


def test_a_clients_tax_number_is_no_makers_affair() -> None:
    changes = {"tax_number": ["", "GB 999"], "phone": ["", "01632 960 001"]}
    assert [one.label for one in changed_fields(Client, changes, money=False)] == ["Phone"]


def test_a_maker_is_told_of_their_own_hours_alone(as_maker: Browser, maker: Person, owner: Person) -> None:
    mine, theirs = make.hours(person=maker), make.hours(person=owner)
    assert as_maker.get(of(mine)).status_code == 200
    assert as_maker.get(of(theirs)).status_code == 404
    job = theirs.phase.job
    record(person=owner, thing=theirs, action="logged", job=job, after={"note": "hush"})
    record(person=maker, thing=mine, action="logged", job=job, after={"note": "mine"})
    page = as_maker.get(of(job))
    assert says(page, "mine")
    assert not says(page, "hush")


def test_a_maker_is_told_who_cut_their_hours(as_maker: Browser, maker: Person, owner: Person) -> None:
    mine, theirs = (make.hours(person=who, on_date=timezone.localdate()) for who in (maker, owner))
    cut = [
        correct_entry(
            entry=entry,
            by=owner,
            key=uuid4(),
            work=Work(entry.phase),
            hours=Hours(entry.on_date, seconds=1800),
            reason=reason,
        ).row
        for entry, reason in ((mine, "long lunch"), (theirs, "hush"))
    ]
    for place in (mine, cut[0]):
        assert says(as_maker.get(of(place)), "Olive Owner", "corrected", "1:00", "0:30")
    assert not says(as_maker.get(of(theirs.phase.job)), "corrected")


def test_a_maker_is_told_of_their_cost_reversed_by_another(
    as_maker: Browser, maker: Person, owner: Person
) -> None:
    mine, theirs = make.cost(person=maker), make.cost(person=owner)
    for cost, reason in ((mine, "wrong job"), (theirs, "hush")):
        reverse_cost(entry=cost, by=owner, key=uuid4(), reason=reason)
    page = as_maker.get(of(mine))
    assert says(page, "Olive Owner", "reversed", "wrong job")
    assert not says(as_maker.get(of(theirs.phase.job)), "hush")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("model", "name", "value", "words"),
    [
        (Job, "state", "bench", "on the bench"),
        (Job, "starts_on", "2026-03-02", "2 Mar 2026"),
        (Job, "starts_on", "None", "nothing"),
        (Job, "title", "", "nothing"),
        (Price, "price", "12.5000", "£12.50"),
        (Price, "price", "no figure", "no figure"),
        (TaxRate, "is_default", "True", "yes"),
        (TaxRate, "percent", "17.5000", "17.5"),
        (StockItem, "length_mm10", "24000", "2400 mm"),
        (Job, "gone", "as it was", "as it was"),
    ],
)
def test_a_value_is_told_as_the_pages_write_it(
    workshop: Any, model: Any, name: str, value: str, words: str
) -> None:
    (changed,) = changed_fields(model, {name: [None, value]}, money=True)
    assert changed.after == words
    assert changed.before == "nothing"


def test_beside_its_record_it_opens_in_place(as_owner: Browser) -> None:
    job = make.job()
    page = as_owner.get(job.get_absolute_url())
    assert says(page, f'hx-get="{of(job)}"', f'href="{of(job)}"', 'hx-select="#history"')
    assert says(as_owner.get(of(job)), '<div id="history">')


def test_the_rate_that_is_no_longer_first_says_so(owner: Person) -> None:
    old = make.tax_rate(is_default=True)
    details = {"name": "New", "category": "S", "percent": 5, "from_date": old.from_date, "is_default": True}
    save_tax_rate(TaxRate(), person=owner, details=details)
    assert HistoryEntry.objects.get(record="taxrate", record_id=old.pk).action == "no longer first"
