"""Orders: committed when placed, actual when received, nothing twice and nothing lost."""

from __future__ import annotations

import hashlib
import io
import re
from datetime import date, timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pypdf
import pytest
from django.db import IntegrityError, transaction
from django.db.models import Sum
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from jobs.models import CommitmentEntry, CostEntry, Outbox, Person, Phase, Workshop
from jobs.refusals import RefusedError
from materials.models import Delivery, Order, OrderLine, OrderShare, Price
from materials.services.deliveries import Came, Goods, receive
from materials.services.orders import LineEdit, cancel, change_draft, place, start_order
from materials.services.taking_back import take_back
from tests import make


@pytest.fixture
def phases(workshop: Any) -> list[Phase]:
    job = make.job(state="bench")
    return [make.phase(job=job, title=title) for title in ("Lining", "Bunk")]


@pytest.fixture
def order(phases: list[Phase]) -> Order:
    return make.order("10", "3.33", {phases[0]: "1", phases[1]: "2"})


def committed(phase: Phase) -> Decimal:
    return CommitmentEntry.objects.filter(phase=phase).aggregate(Sum("net"))["net__sum"] or Decimal(0)


def cost(phase: Phase) -> Decimal:
    return CostEntry.objects.filter(phase=phase).aggregate(Sum("net"))["net__sum"] or Decimal(0)


def come(order: Order, quantity: str, price: str = "3.33", **how: Any) -> Goods:
    line = order.lines.get()
    keep = how.pop("keep_price", False)
    return Goods([Came(line.pk, Decimal(quantity), Decimal(price), keep)], timezone.localdate(), **how)


def test_placed_it_commits_its_phases_to_the_penny(order: Order, phases: list[Phase], owner: Person) -> None:
    placed = place(order=order, send=False, person=owner)
    assert [committed(phase) for phase in phases] == [Decimal("11.10"), Decimal("22.20")]
    assert (placed.state, placed.placed_on) == ("placed", timezone.localdate())
    assert placed.pdf_sha256 == hashlib.sha256(bytes(placed.pdf)).hexdigest()


def test_placed_twice_it_commits_once(order: Order, phases: list[Phase], owner: Person) -> None:
    for _ in range(2):
        place(order=order, send=False, person=owner)
    assert committed(phases[0]) == Decimal("11.10")


def test_its_paper_says_what_is_ordered(order: Order, owner: Person) -> None:
    placed = place(order=order, send=False, person=owner)
    text = pypdf.PdfReader(io.BytesIO(bytes(placed.pdf))).pages[0].extract_text()
    for words in (order.number, "Board, 2400 mm", "£3.33", "£33.30", order.supplier.name):
        assert words in text


def test_it_is_mailed_only_when_asked(order: Order, owner: Person) -> None:
    with pytest.raises(RefusedError, match="no e-mail"):
        place(order=order, send=True, person=owner)
    order.supplier.email = "orders@weir.example"
    order.supplier.save()
    place(order=order, send=True, person=owner)
    letter = Outbox.objects.get()
    assert (letter.to, letter.attachments.get().name) == ("orders@weir.example", f"order-{order.number}.pdf")


def test_a_job_that_is_not_won_is_not_ordered_for(workshop: Any, owner: Person) -> None:
    draft = make.order(weights={make.phase(): "1"})
    with pytest.raises(RefusedError, match="enquiry"):
        place(order=draft, send=False, person=owner)
    assert not CommitmentEntry.objects.exists()


def test_an_empty_order_is_not_placed(order: Order, owner: Person) -> None:
    change_draft(
        order=order, lines=[LineEdit(order.lines.get().pk, Decimal(0), Decimal(0))],
        expected_on=None, deliver_to="", note="", version=order.version, person=owner,
    )  # fmt: skip
    with pytest.raises(RefusedError, match="nothing on it"):
        place(order=order, send=False, person=owner)


def test_received_in_parts_committed_and_actual_follow(
    order: Order, phases: list[Phase], owner: Person
) -> None:
    placed = place(order=order, send=False, person=owner)
    receive(order=placed, goods=come(order, "4"), person=owner, key=uuid4())
    assert [committed(one) for one in phases] == [Decimal("6.66"), Decimal("13.32")]
    assert [cost(one) for one in phases] == [Decimal("4.44"), Decimal("8.88")]
    assert Order.objects.get().state == "part"
    receive(order=placed, goods=come(order, "6", "3.50"), person=owner, key=uuid4())
    assert [committed(one) for one in phases] == [Decimal(0), Decimal(0)]
    assert sum(cost(one) for one in phases) == Decimal("13.32") + Decimal("21.00")
    assert Order.objects.get().state == "received"
    assert set(CostEntry.objects.values_list("source", "source_ref")) == {("order", order.number)}


def test_the_same_delivery_sent_twice_is_one(order: Order, owner: Person) -> None:
    placed, key = place(order=order, send=False, person=owner), uuid4()
    for _ in range(2):
        receive(order=placed, goods=come(order, "4"), person=owner, key=key)
    assert Delivery.objects.count() == 1
    assert OrderLine.objects.get().received == 4


def test_tax_is_shared_like_the_net(order: Order, owner: Person) -> None:
    placed = place(order=order, send=False, person=owner)
    receive(order=placed, goods=come(order, "10", tax=Decimal("6.66")), person=owner, key=uuid4())
    assert sorted(CostEntry.objects.values_list("tax", flat=True)) == [Decimal("2.22"), Decimal("4.44")]


def test_tax_that_cannot_be_claimed_back_is_a_cost_and_taken_back_with_it(
    order: Order, phases: list[Phase], owner: Person
) -> None:
    Workshop.objects.update(not_registered_for_tax=True)
    placed = place(order=order, send=False, person=owner)
    goods = come(order, "10", tax=Decimal("6.66"))
    delivery = receive(order=placed, goods=goods, person=owner, key=uuid4())
    assert [cost(phase) for phase in phases] == [Decimal("13.32"), Decimal("26.64")]
    take_back(delivery=delivery, person=owner, reason="Another order")
    assert [cost(phase) for phase in phases] == [0, 0]


def test_more_than_is_to_come_is_refused_whole(order: Order, phases: list[Phase], owner: Person) -> None:
    placed = place(order=order, send=False, person=owner)
    with pytest.raises(RefusedError, match="only 10"):
        receive(order=placed, goods=come(order, "11"), person=owner, key=uuid4())
    with pytest.raises(RefusedError, match="how many"):
        receive(order=placed, goods=come(order, "0"), person=owner, key=uuid4())
    assert (committed(phases[0]), Delivery.objects.count()) == (Decimal("11.10"), 0)


def test_a_draft_receives_nothing(order: Order, owner: Person) -> None:
    with pytest.raises(RefusedError, match="draft"):
        receive(order=order, goods=come(order, "1"), person=owner, key=uuid4())


def test_a_price_on_the_receipt_goes_to_the_catalogue_only_when_asked(order: Order, owner: Person) -> None:
    placed = place(order=order, send=False, person=owner)
    receive(order=placed, goods=come(order, "4", "3.60"), person=owner, key=uuid4())
    assert not Price.objects.exists()
    receive(order=placed, goods=come(order, "6", "3.70", keep_price=True), person=owner, key=uuid4())
    price = Price.objects.get()
    assert (price.price, price.supplier, price.from_date) == (
        Decimal("3.70"),
        order.supplier,
        timezone.localdate(),
    )


def receipt(phase: Phase, net: str = "13.32", **fields: Any) -> CostEntry:
    return make.cost(phase=phase, net=Decimal(net), **fields)


def test_goods_whose_receipt_was_logged_at_the_bench_are_no_second_cost(
    order: Order, phases: list[Phase], owner: Person
) -> None:
    placed, logged = place(order=order, send=False, person=owner), receipt(phases[0])
    receive(order=placed, goods=come(order, "4", receipt=logged), person=owner, key=uuid4())
    assert list(CostEntry.objects.all()) == [logged]
    assert committed(phases[0]) == Decimal("6.66")
    with pytest.raises(RefusedError, match="another delivery"):
        receive(order=placed, goods=come(order, "4", receipt=logged), person=owner, key=uuid4())


def test_a_receipt_of_another_job_is_refused(order: Order, owner: Person) -> None:
    placed = place(order=order, send=False, person=owner)
    with pytest.raises(RefusedError, match="no receipt of this job"):
        receive(
            order=placed, goods=come(order, "4", receipt=receipt(make.phase())), person=owner, key=uuid4()
        )


def test_cancelled_nothing_stays_committed(order: Order, phases: list[Phase], owner: Person) -> None:
    placed = place(order=order, send=False, person=owner)
    receive(order=placed, goods=come(order, "4"), person=owner, key=uuid4())
    for _ in range(2):
        cancel(order=placed, person=owner)
    assert [committed(one) for one in phases] == [Decimal(0), Decimal(0)]
    assert Order.objects.get().state == "received"


def test_what_is_placed_stands(order: Order, owner: Person) -> None:
    place(order=order, send=False, person=owner)
    with pytest.raises(RefusedError, match="stands"):
        change_draft(order=order, lines=[], expected_on=None, deliver_to="", note="", version=1, person=owner)


def test_the_database_refuses_nonsense(order: Order) -> None:
    line = order.lines.get()
    with transaction.atomic(), pytest.raises(IntegrityError):
        OrderLine.objects.filter(pk=line.pk).update(received=11)
    with transaction.atomic(), pytest.raises(IntegrityError):
        OrderLine.objects.filter(pk=line.pk).update(quantity=0)
    with transaction.atomic(), pytest.raises(IntegrityError):
        OrderShare.objects.update(let_go=Decimal(999))


def test_a_delivery_after_the_phase_starts_is_warned_of(
    order: Order, phases: list[Phase], as_owner: Browser
) -> None:
    soon = timezone.localdate() + timedelta(days=3)
    Order.objects.update(expected_on=soon + timedelta(days=2))
    Phase.objects.filter(pk=phases[1].pk).update(planned_start=soon)
    page = as_owner.get(order.get_absolute_url()).content.decode()
    assert f"Bunk starts on {soon:%-d %b}" in page
    Phase.objects.update(planned_start=soon + timedelta(days=2))
    assert "starts on" not in as_owner.get(order.get_absolute_url()).content.decode()


def test_each_figure_of_a_line_has_its_word_beside_it(order: Order, owner: Person, as_owner: Browser) -> None:
    line = order.lines.get().pk
    page = as_owner.get(order.get_absolute_url()).text
    for word, name in (("how many", "quantity"), ("price", "price")):
        assert re.search(rf'data-th="{word}">(?:(?!</td>).)*name="{name}_{line}"', page, re.S)
    place(order=order, send=False, person=owner)
    page = as_owner.get(reverse("materials:order-receive", args=[order.pk])).text
    for word, name in (("came", "came"), ("price each", "price"), ("keep the price", "keep")):
        assert re.search(rf'data-th="{word}">(?:(?!</td>).)*name="{name}_{line}"', page, re.S)


def draft_fields(order: Order, **changes: str) -> dict[str, str]:
    line = order.lines.get()
    fields = {f"quantity_{line.pk}": "10", f"price_{line.pk}": "3.33", "note": "By hand, please"}
    fields["version"] = str(order.version)
    return {**fields, **{name.replace("LINE", str(line.pk)): value for name, value in changes.items()}}


def test_a_draft_is_changed_in_the_browser(order: Order, as_owner: Browser) -> None:
    as_owner.post(reverse("materials:order-change", args=[order.pk]), draft_fields(order, quantity_LINE="7"))
    order.refresh_from_db()
    assert (order.lines.get().quantity, order.note, order.version) == (7, "By hand, please", 2)


def test_a_price_in_a_currency_of_small_units_is_taken(order: Order, as_owner: Browser) -> None:
    fields = draft_fields(order, quantity_LINE="100", price_LINE="1500000")
    as_owner.post(reverse("materials:order-change", args=[order.pk]), fields)
    assert order.lines.get().price == 1_500_000


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"quantity_LINE": "-1"}, "quantity"),
        ({"price_LINE": "dear"}, "price"),
        ({"expected_on": "soon"}, "exp"),
    ],
)
def test_what_is_amiss_in_a_draft_stands_beside_the_field(
    order: Order, as_owner: Browser, changes: dict[str, str], field: str
) -> None:
    fields = draft_fields(order, **changes)
    answer = as_owner.post(reverse("materials:order-change", args=[order.pk]), fields)
    assert answer.status_code == 422
    assert any(name.startswith(field) for name in answer.context["form"].errors)
    assert "By hand, please" in answer.content.decode()


@pytest.mark.parametrize("quantity", ["20", "100", "2.5"])
def test_how_many_stands_in_plain_figures(order: Order, as_owner: Browser, quantity: str) -> None:
    order.lines.update(quantity=Decimal(quantity))
    page = as_owner.get(order.get_absolute_url()).text
    assert re.search(rf'name="quantity_{order.lines.get().pk}" value="{re.escape(quantity)}"', page)


def test_it_is_placed_as_it_stands_typed(order: Order, phases: list[Phase], as_owner: Browser) -> None:
    as_owner.post(reverse("materials:order-place", args=[order.pk]), draft_fields(order, quantity_LINE="7"))
    order.refresh_from_db()
    assert (order.state, order.lines.get().quantity, order.note) == ("placed", 7, "By hand, please")
    assert committed(phases[0]) + committed(phases[1]) == Decimal("23.31")


@pytest.mark.parametrize("changes", [{"price_LINE": "dear"}, {"version": "0", "note": "Mine"}])
def test_what_cannot_be_kept_is_not_placed(order: Order, as_owner: Browser, changes: dict[str, str]) -> None:
    answer = as_owner.post(reverse("materials:order-place", args=[order.pk]), draft_fields(order, **changes))
    assert answer.status_code in {409, 422}
    assert Order.objects.get().state == "draft"


def test_the_buttons_that_place_it_send_what_is_typed(order: Order, as_owner: Browser) -> None:
    page = as_owner.get(order.get_absolute_url()).text
    draft = re.search(r'<form method="post" action="[^"]*/change/".*?</form>', page, re.S)
    assert draft
    assert f'formaction="{reverse("materials:order-place", args=[order.pk])}"' in draft[0]


def test_a_line_is_added_from_what_the_supplier_sells(
    order: Order, phases: list[Phase], as_owner: Browser
) -> None:
    price = make.price("5.50", supplier=order.supplier, supplier_code="W9")
    other = make.price("1.00")
    add = reverse("materials:order-add-line", args=[order.pk])
    fields = {"add-size": price.size_id, "add-quantity": "2", "add-phase": phases[1].pk}
    as_owner.post(add, fields)
    line = order.lines.get(size=price.size)
    assert (line.quantity, line.price, line.supplier_code) == (2, Decimal("5.50"), "W9")
    assert line.shares.get().phase == phases[1]
    assert as_owner.post(add, {**fields, "add-size": other.size_id}).status_code == 422
    assert as_owner.post(add, fields).status_code == 422
    assert order.lines.count() == 2


def receive_fields(order: Order, came: str, key: str, price: str = "3.33") -> dict[str, str]:
    line = order.lines.get()
    fields = {"key": key, "on_date": timezone.localdate().isoformat(), f"came_{line.pk}": came}
    return {**fields, f"price_{line.pk}": price}


def test_received_in_the_browser_once(order: Order, owner: Person, as_owner: Browser) -> None:
    place(order=order, send=False, person=owner)
    address, key = reverse("materials:order-receive", args=[order.pk]), str(uuid4())
    for _ in range(2):
        as_owner.post(address, receive_fields(order, "4", key))
    assert OrderLine.objects.get().received == 4
    answer = as_owner.post(address, receive_fields(order, "99", str(uuid4())))
    assert answer.status_code == 422
    assert answer.context["form"].errors == {f"came_{order.lines.get().pk}": ["Only 6 are to come."]}


@pytest.mark.parametrize(
    ("came", "price", "said"),
    [
        ("-1", "1", "Not less than nothing."),
        ("1.00001", "1", "At most four figures after the point."),
        ("1", "123456789", "At most eight figures before the point."),
    ],
)
def test_a_figure_that_cannot_be_is_refused_in_words(
    order: Order, owner: Person, as_owner: Browser, came: str, price: str, said: str
) -> None:
    place(order=order, send=False, person=owner)
    address = reverse("materials:order-receive", args=[order.pk])
    answer = as_owner.post(address, receive_fields(order, came, str(uuid4()), price))
    assert [said] in answer.context["form"].errors.values()


def test_a_maker_receives_without_seeing_a_price(order: Order, owner: Person, as_maker: Browser) -> None:
    place(order=order, send=False, person=owner)
    address = reverse("materials:order-receive", args=[order.pk])
    for page in (address, order.get_absolute_url(), reverse("materials:orders")):
        seen = as_maker.get(page).content.decode()
        assert "3.33" not in seen
        assert "33.30" not in seen
    as_maker.post(address, receive_fields(order, "10", str(uuid4()), price="0.01"))
    assert CostEntry.objects.aggregate(Sum("net"))["net__sum"] == Decimal("33.30")


@pytest.mark.parametrize("name", ["", "-change", "-add-line", "-place", "-cancel", "-paper", "-receive"])
def test_what_is_not_there_is_not_found(as_owner: Browser, name: str) -> None:
    method = as_owner.get if name in {"", "-paper"} else as_owner.post
    assert method(reverse(f"materials:order{name}", args=[999_999])).status_code == 404


@pytest.mark.parametrize("many", [1, 3])
def test_pages_take_a_fixed_number_of_queries(
    as_bookkeeper: Browser, many: int, django_assert_num_queries: Any
) -> None:
    for _ in range(many):
        order = make.order()
        for _ in range(many - 1):
            extra = make.order(job=order.job)
            extra.lines.update(order=order)
    with django_assert_num_queries(7):  # session, person, workshop, how many, orders, lines, shares
        as_bookkeeper.get(reverse("materials:orders"))
    with django_assert_num_queries(7):  # session, person, workshop, order, lines, shares, deliveries
        as_bookkeeper.get(order.get_absolute_url())


def test_an_order_on_its_day_is_dated(order: Order, owner: Person) -> None:
    assert place(order=order, send=False, person=owner).placed_on == date.today()  # noqa: DTZ011 - as the clock


def test_a_draft_is_wanted_when_the_supplier_usually_comes(order: Order, owner: Person) -> None:
    for days, wanted in ((0, None), (4, timezone.localdate() + timedelta(days=4))):
        drafted = start_order(job=order.job, supplier=make.supplier(lead_days=days), person=owner)
        assert drafted.expected_on == wanted
