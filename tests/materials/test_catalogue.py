"""The catalogue's pages and what they write."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from django.urls import reverse

from jobs import search
from jobs.models import HistoryEntry, Person
from materials.models import Material, Price, StockSize
from materials.services.catalogue import add_material, add_size, set_price
from tests import make

BOARD = {
    "name": "Ash, planed",
    "code": "",
    "thickness_mm10": "20",
    "width_mm10": "120",
    "cover_width_mm10": "",
    "tongue_mm10": "",
    "grain": "along",
    "usual_density": "2",
    "density_kg_m3": "",
}


def new(browser: Browser, kind: str = "board", **changes: str) -> Any:
    return browser.post(reverse("materials:new", args=[kind]), {**BOARD, **changes})


def test_a_board_is_added_with_the_next_code_and_a_usual_density(as_owner: Browser) -> None:
    make.material(code="B-007")
    answer = new(as_owner, thickness_mm10="3/4 in")
    material = Material.objects.get(name="Ash, planed")
    assert answer.url == material.get_absolute_url()
    assert (material.code, material.thickness_mm10, material.density_kg_m3) == ("B-008", 191, Decimal(700))
    assert material.density_source == "EN 350:2016 Annex B, from memory"
    assert material.moisture_percent == 12


def test_a_typed_density_goes_before_a_usual_one(as_owner: Browser) -> None:
    new(as_owner, density_kg_m3="655")
    assert Material.objects.get().density_kg_m3 == 655


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("name", "", "required"),
        ("thickness_mm10", "thick", "not a length"),
        ("cover_width_mm10", "125", "more than its width"),
        ("density_kg_m3", "-5", "More than nothing"),
        ("moisture_percent", "31", "From 0 to 30 %"),
        ("width_mm10", "2,400", "thousands"),
        ("width_mm10", "11 m", "At most"),
    ],
)
def test_what_is_amiss_stands_beside_the_field(as_owner: Browser, field: str, typed: str, words: str) -> None:
    answer = new(as_owner, **{field: typed})
    assert answer.status_code == 422
    form = answer.context["form"]
    assert words in " ".join(form.errors[field])
    assert form[field].value() == typed
    assert not Material.objects.exists()


def test_a_code_is_given_once(as_owner: Browser) -> None:
    make.material(code="B-001")
    assert "already exists" in str(new(as_owner, code="B-001").context["form"].errors["code"])


def test_an_unknown_kind_is_not_there(as_owner: Browser) -> None:
    assert as_owner.get(reverse("materials:new", args=["brick"])).status_code == 404


def edited(material: Material, **changes: str) -> dict[str, str]:
    return {
        **BOARD,
        "name": material.name,
        "code": material.code,
        "version": str(material.version),
        **changes,
    }


def test_an_edit_keeps_what_was_there_before(as_owner: Browser) -> None:
    material = make.material(name="Ash")
    as_owner.post(reverse("materials:edit", args=[material.pk]), edited(material, name="Ash, planed"))
    material.refresh_from_db()
    assert (material.name, material.version) == ("Ash, planed", 2)
    changes = HistoryEntry.objects.get(record="material", action="edited").changes
    assert changes["name"] == ["Ash", "Ash, planed"]


def test_the_later_of_two_edits_sees_the_earlier(as_owner: Browser) -> None:
    material = make.material(name="Ash")
    old = edited(material, name="My name")
    Material.objects.update(name="Their name", version=2)
    answer = as_owner.post(reverse("materials:edit", args=[material.pk]), old)
    assert answer.status_code == 409
    assert ("Their name", "My name") in [(one.theirs, one.yours) for one in answer.context["page"].clash]


def listed(browser: Browser, **sift: str) -> list[Material]:
    found = browser.get(reverse("materials:list"), sift).context["found"]
    return [row.material for row in found.rows]


def test_archived_and_brought_back(as_owner: Browser) -> None:
    material = make.material(name="Old board")
    for _ in range(2):
        as_owner.post(reverse("materials:archive", args=[material.pk]))
    assert (listed(as_owner), listed(as_owner, archived="yes")) == ([], [material])
    as_owner.post(reverse("materials:bring-back", args=[material.pk]))
    assert (listed(as_owner), listed(as_owner, archived="yes")) == ([material], [])
    assert HistoryEntry.objects.filter(record="material").count() == 2


def size_fields(**changes: str) -> dict[str, str]:
    return {f"size-{name}": value for name, value in {"length": "2400", "price": "", **changes}.items()}


def test_a_size_comes_with_its_first_price(as_owner: Browser) -> None:
    material, supplier = make.material(), make.supplier()
    fields = size_fields(length="2.4 m", supplier=str(supplier.pk), price="4.20", from_date="2026-09-01")
    as_owner.post(reverse("materials:size-add", args=[material.pk]), fields)
    price = Price.objects.get()
    assert (price.size.length_mm10, price.price) == (24000, Decimal("4.20"))
    assert (price.from_date, price.supplier) == (date(2026, 9, 1), supplier)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"length": ""}, "length"),
        ({"length": "4"}, "length"),
        ({"length": "200 m"}, "length"),
        ({"price": "4.20"}, "supplier"),
        ({"price": "-1"}, "price"),
        ({"pack_quantity": "0"}, "pack_quantity"),
    ],
)
def test_a_size_that_cannot_be_is_told_on_the_materials_page(
    as_owner: Browser, changes: dict[str, str], field: str
) -> None:
    material = make.material()
    answer = as_owner.post(reverse("materials:size-add", args=[material.pk]), size_fields(**changes))
    assert answer.status_code == 422
    assert field in answer.context["size_form"].errors
    assert not StockSize.objects.exists()


def test_the_same_size_is_not_added_twice_but_comes_out_of_the_archive(owner: Person) -> None:
    material = make.material()
    size = {"length_mm10": 24000, "width_mm10": None, "pack_quantity": Decimal(1)}
    first = add_size(material=material, person=owner, **size)
    StockSize.objects.update(archived_at="2026-01-01T00:00Z")
    assert add_size(material=material, person=owner, **size) == first
    assert StockSize.objects.get().archived_at is None


def test_a_price_for_the_same_day_replaces_and_one_for_another_is_added(owner: Person) -> None:
    size, supplier = make.size(), make.supplier()
    how = {"size": size, "supplier": supplier, "person": owner}
    set_price(price=Decimal("4.20"), from_date=date(2026, 1, 1), supplier_code="W1", **how)
    set_price(price=Decimal("4.30"), from_date=date(2026, 1, 1), **how)
    set_price(price=Decimal("4.60"), from_date=date(2026, 6, 1), **how)
    kept = Price.objects.order_by("from_date").values_list("price", "supplier_code")
    assert list(kept) == [(Decimal("4.30"), "W1"), (Decimal("4.60"), "W1")]


def test_a_price_is_written_down_and_removed_again(as_owner: Browser) -> None:
    size, supplier = make.size(), make.supplier()
    fields = {"price-size": size.pk, "price-supplier": supplier.pk, "price-price": "4.20"}
    as_owner.post(reverse("materials:price-add", args=[size.material_id]), fields)
    price = Price.objects.get()
    as_owner.post(reverse("materials:price-remove", args=[price.pk]))
    assert not Price.objects.exists()
    assert HistoryEntry.objects.get(action="price removed").changes["price"] == ["4.20", None]


def test_a_price_of_another_materials_size_is_refused(as_owner: Browser) -> None:
    material, other = make.material(), make.size()
    fields = {"price-size": other.pk, "price-supplier": make.supplier().pk, "price-price": "4.20"}
    answer = as_owner.post(reverse("materials:price-add", args=[material.pk]), fields)
    assert "size" in answer.context["price_form"].errors
    assert not Price.objects.exists()


@pytest.mark.parametrize("name", ["edit", "archive", "bring-back", "size-add", "price-add", "size-archive"])
def test_what_is_not_there_is_not_found(as_owner: Browser, name: str) -> None:
    assert as_owner.post(reverse(f"materials:{name}", args=[999_999])).status_code == 404


def test_a_maker_sees_sizes_and_no_price(as_maker: Browser, as_bookkeeper: Browser) -> None:
    price = make.price("987.65", supplier=make.supplier(name="Weir Timber"))
    for address in (reverse("materials:list"), price.size.material.get_absolute_url()):
        assert "987.65" in as_bookkeeper.get(address).content.decode()
        seen = as_maker.get(address).content.decode()
        assert "2400 mm" in seen
        assert "987.65" not in seen
        assert "Weir Timber" not in seen


def test_found_by_words_and_kind(maker: Person, as_maker: Browser) -> None:
    make.material(name="Ash, planed", code="B-001")
    make.material(name="Ash veneered ply", kind="sheet")
    make.material(name="Oak, planed")
    assert [one.name for one in listed(as_maker, q="ash", kind="board")] == ["Ash, planed"]
    assert [one.title for group in search.find("B-001", maker) for one in group.found] == ["Ash, planed"]


@pytest.mark.parametrize("many", [1, 3])
def test_the_list_takes_a_fixed_number_of_queries(
    as_owner: Browser, many: int, django_assert_num_queries: Any
) -> None:
    for _ in range(many):
        make.price()
    with django_assert_num_queries(7):  # session, person, workshop, how many, materials, sizes, prices
        as_owner.get(reverse("materials:list"))


@pytest.mark.parametrize("many", [1, 3])
def test_a_material_takes_a_fixed_number_of_queries(
    as_bookkeeper: Browser, many: int, django_assert_num_queries: Any
) -> None:
    material = make.material()
    for at in range(many):
        size = make.size(material=material, length_mm10=24000 + 10 * at)
        for _ in range(many):
            make.price(size=size)
    with django_assert_num_queries(
        8
    ):  # besides session, person, workshop: itself, its sizes, prices, history…
        as_bookkeeper.get(material.get_absolute_url())


def test_a_supplier_is_kept_once_by_name(as_owner: Browser) -> None:
    make.supplier(name="Weir Timber")
    answer = as_owner.post(reverse("materials:supplier-new"), {"name": "weir  timber", "lead_days": "3"})
    assert answer.status_code == 422
    assert answer.context["form"]["lead_days"].value() == "3"
    as_owner.post(reverse("materials:supplier-new"), {"name": "Weir Boards", "lead_days": "3"})
    assert "Weir Boards" in as_owner.get(reverse("materials:suppliers")).content.decode()


def test_the_database_refuses_nonsense(owner: Person) -> None:
    size = make.size()
    with transaction.atomic(), pytest.raises(IntegrityError):
        make.size(material=size.material)
    with transaction.atomic(), pytest.raises(IntegrityError):
        make.size(length_mm10=1, pack_quantity=Decimal(0))
    with transaction.atomic(), pytest.raises(IntegrityError):
        make.price("-1")
    with pytest.raises(ValidationError, match="brick"):
        add_material(kind="brick", details={"name": "x", "code": "X"}, person=owner)
