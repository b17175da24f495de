"""Two people open the same record: the later save is refused, both versions are shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests import make
from tests.checks import says
from tests.form_reader import PageForm, forms_of


@dataclass(frozen=True)
class Edited:
    """A record's form: where it is opened, where it goes, and a field with what each of two people types."""

    name: str
    made: Callable[[], Any]
    typed: str
    first: str
    later: str
    goes: str = ""
    field: str = ""

    def opened_at(self, thing: Any) -> str:
        return reverse(self.name, args=[thing.pk])

    def goes_to(self, thing: Any) -> str:
        return reverse(self.goes or self.name, args=[thing.pk])

    def stored(self, thing: Any) -> str:
        return str(getattr(type(thing).objects.get(pk=thing.pk), self.field or self.typed))


STOCK, ORDER = "materials:stock-change", "materials:order-change"
EDITED = [
    Edited("jobs:client-edit", make.client, "name", "Larch Cottage", "Alder Cottage"),
    Edited("jobs:edit", make.job, "title", "Shepherd’s hut", "Narrowboat galley"),
    Edited("jobs:phase-edit", make.phase, "title", "Lining", "Fitting out"),
    Edited("jobs:person-edit", make.person, "name", "Ash Turner", "Elm Sawyer"),
    Edited("jobs:tax-rate", make.tax_rate, "reason", "as they say", "as we say"),
    Edited("jobs:labour-rate", make.labour_rate, "name", "Fitter", "Finisher"),
    Edited("materials:edit", make.material, "name", "Oak", "Beech"),
    Edited("materials:supplier", make.supplier, "phone", "01632 960 001", "01632 960 002"),
    Edited(
        "materials:stock-item",
        make.stock_item,
        "item-place",
        "loft",
        "rack",
        STOCK,
        "place",
    ),
    Edited("materials:order", make.order, "note", "ring first", "leave at the gate", ORDER),
]


def form_of(browser: Browser, at: str, goes_to: str) -> PageForm:
    page = browser.get(at).text
    return next(form for form in forms_of(page, at) if form.action == goes_to and form.method == "post")


@pytest.mark.parametrize("edited", EDITED, ids=lambda edited: edited.name)
def test_the_later_save_is_refused_with_both_shown_and_can_be_sent_again(
    edited: Edited, as_owner: Browser
) -> None:
    thing = edited.made()
    at, goes_to = edited.opened_at(thing), edited.goes_to(thing)
    opened = form_of(as_owner, at, goes_to).values
    assert as_owner.post(goes_to, opened | {edited.typed: edited.first}).status_code == 302

    answer = as_owner.post(goes_to, opened | {edited.typed: edited.later})

    assert answer.status_code == 409
    assert says(answer, "Somebody else saved this meanwhile", edited.first, edited.later)
    assert edited.stored(thing) == edited.first
    again = next(form for form in forms_of(answer.text, at) if form.action == goes_to)
    assert again.values[edited.typed].strip() == edited.later  # a text area begins with a line of its own
    assert as_owner.post(goes_to, again.values).status_code == 302
    assert edited.stored(thing) == edited.later


@pytest.mark.parametrize("edited", EDITED, ids=lambda edited: edited.name)
def test_the_same_form_sent_twice_is_saved_once(edited: Edited, as_owner: Browser) -> None:
    thing = edited.made()
    at, goes_to = edited.opened_at(thing), edited.goes_to(thing)
    typed = form_of(as_owner, at, goes_to).values | {edited.typed: edited.first}
    assert [as_owner.post(goes_to, typed).status_code for _ in range(2)] == [302, 302]
    stored = type(thing).objects.get(pk=thing.pk)
    assert stored.version == thing.version + 1


def test_a_price_of_the_same_day_is_not_written_over_unseen(as_owner: Browser) -> None:
    size, supplier = make.size(), make.supplier()
    at = size.material.get_absolute_url()
    goes_to = reverse("materials:price-add", args=[size.material_id])
    opened = form_of(as_owner, at, goes_to).values
    typed = opened | {"price-size": str(size.pk), "price-supplier": str(supplier.pk)}
    assert as_owner.post(goes_to, typed | {"price-price": "12.50"}).status_code == 302

    answer = as_owner.post(goes_to, typed | {"price-price": "13.75"})

    assert answer.status_code == 409
    assert says(answer, "12.5", "13.75")
    assert size.prices.get().price == 12.5
    again = next(form for form in forms_of(answer.text, at) if form.action == goes_to)
    assert as_owner.post(goes_to, again.values).status_code == 302
    assert str(size.prices.get().price) == "13.75"
