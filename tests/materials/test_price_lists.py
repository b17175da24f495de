"""Lists brought in: whole or not at all, and the second time nothing is doubled."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import HistoryEntry, Person
from materials.models import Material, Price, PriceList, StockSize, Supplier
from materials.pricelist.export import write_csv, write_xlsx
from materials.queries.price_list_export import export_rows
from materials.queries.price_lists import examine
from materials.services.price_lists import RowsAmissError, upload, write
from tests import make

DEMO = Path(__file__).parents[2] / "materials" / "demo_price_list.csv"
GOOD = "Code,Name,Kind,Length,Price\nB1,Ash,board,2400,4.20\nB2,Oak,board,3000,27.40\n"
BAD = GOOD + "B3,Elm,board,2400,POA\n"


def bring_in(content: bytes | str, owner: Person, **how: Any) -> PriceList:
    raw = content.encode() if isinstance(content, str) else content
    price_list = upload(name="list.csv", content=raw, supplier="Weir Timber", person=owner)
    return write(price_list=price_list, person=owner, **{"leave_out_bad_rows": False, **how})


def test_a_list_is_written_with_its_outcome_and_without_its_file(owner: Person) -> None:
    written = bring_in(GOOD, owner)
    assert Price.objects.count() == Material.objects.count() == 2
    assert (written.outcome["first_prices"], bytes(written.content)) == (2, b"")


def test_nothing_is_written_while_a_row_is_amiss(owner: Person) -> None:
    with pytest.raises(RowsAmissError, match="1 row "):
        bring_in(BAD, owner)
    assert [model.objects.count() for model in (Material, Supplier, StockSize, Price)] == [0, 0, 0, 0]


def test_the_good_rows_are_written_when_the_owner_says_so(owner: Person) -> None:
    written = bring_in(BAD, owner, leave_out_bad_rows=True)
    assert Price.objects.count() == 2
    assert written.outcome["left_out"] == 1


def test_written_twice_is_written_once(owner: Person) -> None:
    price_list = bring_in(GOOD, owner)
    Price.objects.all().delete()
    write(price_list=price_list, leave_out_bad_rows=False, person=owner)
    assert not Price.objects.exists()


def test_a_second_list_keeps_the_old_price_in_the_history(owner: Person) -> None:
    bring_in(GOOD, owner)
    Price.objects.update(from_date=date(2026, 1, 1))
    bring_in(GOOD.replace("4.20", "4.60"), owner)
    assert Material.objects.count() == StockSize.objects.count() == 2
    ash = Price.objects.filter(size__material__code="B1").order_by("from_date")
    assert [price.price for price in ash] == [Decimal("4.20"), Decimal("4.60")]


def test_a_changed_material_counts_its_save_and_is_remembered(owner: Person) -> None:
    made = make.material(code="B1", name="Ash, old name")
    bring_in(GOOD.replace("Code", "Own code"), owner)
    made.refresh_from_db()
    assert (made.name, made.version) == ("Ash", 2)
    entry = HistoryEntry.objects.get(record="material", record_id=made.pk)
    assert entry.changes == {"name": ["Ash, old name", "Ash"]}


def test_the_demo_list_has_no_bad_row(owner: Person) -> None:
    written = bring_in(DEMO.read_bytes(), owner)
    assert written.outcome["left_out"] == 0
    assert Price.objects.count() >= 120
    assert Supplier.objects.count() >= 3
    assert set(Material.objects.values_list("kind", flat=True)) == {
        "board", "sheet", "length", "piece", "liquid", "fixing"
    }  # fmt: skip
    woods = Material.objects.filter(kind__in=["board", "sheet", "length"])
    assert not woods.filter(density_kg_m3=None).exists()


@pytest.mark.parametrize("write_file", [write_csv, write_xlsx])
def test_an_exported_list_brought_in_again_changes_nothing(owner: Person, write_file: Any) -> None:
    bring_in(DEMO.read_bytes(), owner)
    odd = make.material(name="=Screw", kind="fixing", notes="-1 to\n+5", mass_per_unit_kg=Decimal("0.0026"))
    make.price("0.1234", size=make.size(material=odd, length_mm10=None, pack_quantity=Decimal("0.75")))
    make.size(material=make.material(kind="piece", width_mm10=950), length_mm10=10005, width_mm10=5000)
    today = date(2026, 11, 25)
    content = write_file(export_rows(today))
    examined = examine(upload(name="again", content=content, supplier="", person=owner))
    assert examined.problems == []
    assert examined.comparison.changes_nothing
    assert examined.comparison.unchanged == Price.objects.count()


@pytest.mark.parametrize("many", [1, 3])
def test_an_export_takes_three_queries(owner: Person, many: int, django_assert_num_queries: Any) -> None:
    for _ in range(many):
        make.price()
    with django_assert_num_queries(3):
        assert len(list(export_rows(date(2026, 11, 25)))) == many


def send(browser: Browser, content: bytes, name: str = "list.csv", **fields: str) -> Any:
    file = SimpleUploadedFile(name, content)
    return browser.post(reverse("materials:price-list-new"), {"file": file, **fields})


def test_from_file_to_catalogue_in_the_browser(as_owner: Browser) -> None:
    sent = send(as_owner, BAD.encode(), new_supplier="Weir Timber")
    page = as_owner.get(sent.url)
    assert [(p.row, p.column) for p in page.context["page"].problems] == [(4, "Price")]
    write_url = reverse("materials:price-list-write", args=[PriceList.objects.get().pk])
    refused = as_owner.post(write_url, follow=True)
    assert "1 row can’t be taken. Mend the list, or leave bad rows out." in refused.content.decode()
    assert not Price.objects.exists()
    done = as_owner.post(write_url, {"leave_out": "yes"}, follow=True)
    assert "Rows left out" in done.content.decode()
    assert Price.objects.count() == 2


@pytest.mark.parametrize("content", [b"", b"%PDF-1.4", b"\x00\x01\x02\x03", b"one\ntwo\n", b"PK\x03\x04"])
def test_a_file_that_is_no_list_is_told_beside_the_field(as_owner: Browser, content: bytes) -> None:
    answer = send(as_owner, content, new_supplier="Weir Timber")
    assert answer.status_code == 422
    assert answer.context["form"].errors["file"]
    assert answer.context["form"]["new_supplier"].value() == "Weir Timber"
    assert not PriceList.objects.exists()


def match_fields(page: Any, **changes: str) -> dict[str, str]:
    fields = {field.html_name: field.value() for field in page.context["form"] if field.value() is not None}
    return {name: str(value) for name, value in {**fields, **changes}.items()}


def test_columns_can_be_matched_by_hand(as_owner: Browser) -> None:
    sent = send(as_owner, b"Artikel;Bez;Preis\nA1;Esche;12,50\n", new_supplier="Weir Timber")
    page = as_owner.get(sent.url)
    assert page.context["page"].missing == ("the price", "a code or a name")
    fields = match_fields(
        page, column_0="supplier_code", column_1="name", column_2="price", decimal_mark=",", kind="board"
    )
    match_url = reverse("materials:price-list-match", args=[PriceList.objects.get().pk])
    matched = as_owner.post(match_url, fields, follow=True)
    (price,) = matched.context["page"].prices
    assert (price.name, price.after) == ("Esche", Decimal("12.50"))


KINDLESS = (
    "Code,Description,Unit,Price,Pack,Length\n"
    "PTG-95,Redwood tongue and groove 14 x 95 mm,each,4.20,1,2400\n"
    "SCR-435,Screws 4.0 x 35 mm box of 200,box,8.40,200,\n"
    "PNT-25,Eggshell paint 2.5 litre tin,tin,46.00,1,\n"
    "SUN-1,Sundries,each,3.00,1,\n"
)


def test_a_list_without_kinds_comes_in_as_confirmed(as_owner: Browser) -> None:
    page = as_owner.get(send(as_owner, KINDLESS.encode(), new_supplier="Weir Timber").url)
    assert [(one.rows, one.column) for one in page.context["page"].faults] == [("2–5", "Kind")]
    form = page.context["form"]
    assert [field.value() for _, field in form.kind_rows] == ["board", "fixing", "liquid", ""]
    assert not Material.objects.exists()  # a guess is no more than offered
    fields = match_fields(page, kind_4="liquid", kind_5="piece")
    address = reverse("materials:price-list-match", args=[PriceList.objects.get().pk])
    matched = as_owner.post(address, fields, follow=True)
    assert [matched.context["form"][f"kind_{row}"].value() for row in (2, 5)] == ["board", "piece"]
    sizes = [price.size for price in matched.context["page"].prices]
    assert sizes == ["2400 mm", "pack of 200", "2.5 l", "one"]
    as_owner.post(reverse("materials:price-list-write", args=[PriceList.objects.get().pk]))
    kinds = dict(Material.objects.values_list("code", "kind"))
    assert kinds == {"PTG-95": "board", "SCR-435": "fixing", "PNT-25": "liquid", "SUN-1": "piece"}
    assert Material.objects.get(code="SCR-435").unit == "each"
    assert StockSize.objects.get(material__code="PNT-25").pack_quantity == Decimal("2.5")


def test_a_row_whose_kind_is_left_open_is_asked_again(as_owner: Browser) -> None:
    page = as_owner.get(send(as_owner, KINDLESS.encode(), new_supplier="Weir Timber").url)
    address = reverse("materials:price-list-match", args=[PriceList.objects.get().pk])
    again = as_owner.post(address, match_fields(page), follow=True).context["page"]
    assert [(one.rows, one.column) for one in again.faults] == [("5", "Kind")]
    assert [(asked.row, asked.is_guess) for asked in again.kinds] == [
        (5, True), (2, False), (3, False), (4, False),
    ]  # fmt: skip


def test_more_kindless_rows_than_a_page_holds_come_by_turns(as_owner: Browser) -> None:
    rows = "".join(f"A{at},Oak board {at},4.20\n" for at in range(130))
    page = as_owner.get(send(as_owner, f"Code,Name,Price\n{rows}".encode(), new_supplier="Weir").url)
    assert (len(page.context["page"].kinds), page.context["page"].more_kinds) == (100, 30)
    address = reverse("materials:price-list-match", args=[PriceList.objects.get().pk])
    for _ in range(2):
        page = as_owner.post(address, match_fields(page), follow=True)
    assert len(page.context["page"].examined.comparison.new_materials) == 130


def test_one_thing_matched_twice_is_told_beside_the_second(as_owner: Browser) -> None:
    sent = send(as_owner, GOOD.encode(), new_supplier="Weir Timber")
    page = as_owner.get(sent.url)
    fields = match_fields(page, column_3="price", supplier="Typed Meanwhile")
    match_url = reverse("materials:price-list-match", args=[PriceList.objects.get().pk])
    answer = as_owner.post(match_url, fields)
    assert answer.status_code == 422
    assert answer.context["form"].errors["column_4"] == ["“Price” is matched to “Length” already."]
    assert answer.context["form"]["supplier"].value() == "Typed Meanwhile"


@pytest.mark.parametrize("many", [1, 3, 30])
def test_the_matching_page_takes_a_fixed_number_of_queries(
    as_owner: Browser, many: int, django_assert_num_queries: Any
) -> None:
    lines = "".join(f"B{at},Ash {at},board,2400,4.20\n" for at in range(many))
    content, supplier = f"Code,Name,Kind,Length,Price\n{lines}".encode(), make.supplier()
    address = send(as_owner, content, supplier=str(supplier.pk)).url
    with django_assert_num_queries(8):  # session, person, workshop, the list, and four of the catalogue
        as_owner.get(address)


def test_exports_are_offered_as_files(as_bookkeeper: Browser) -> None:
    make.price()
    for name, kind in [
        ("materials:price-list-csv", "text/csv"),
        ("materials:price-list-xlsx", "spreadsheet"),
    ]:
        answer = as_bookkeeper.get(reverse(name))
        assert kind in answer.headers["Content-Type"]
        assert answer.headers["Content-Disposition"].startswith("attachment")


def test_a_catalogue_that_changed_while_the_list_was_read_is_looked_at_again(
    owner: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    price_list = upload(name="list.csv", content=GOOD.encode(), supplier="Weir Timber", person=owner)
    looks: list[int] = []

    def look_while_another_list_comes(of: PriceList) -> Any:
        found = examine(of)
        looks.append(len(found.comparison.prices))
        if len(looks) == 1:
            bring_in(GOOD, owner)
        return found

    monkeypatch.setattr("materials.services.price_lists.examine", look_while_another_list_comes)
    write(price_list=price_list, leave_out_bad_rows=False, person=owner)
    assert Price.objects.count() == Material.objects.count() == 2
    assert looks == [2, 2, 0]
