"""Two ways to make one thing: typed, compared, taken, dropped."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from materials.models import TakeoffItem
from materials.queries.ways import way_rows
from materials.services import ways as services
from materials.services.takeoff import Entered
from materials.takeoff.codec import to_json
from materials.takeoff.counted import Manual
from tests import make
from tests.materials.takeoff.typed import cladding

pytestmark = pytest.mark.django_db


WAYS_QUERIES = 13


def at(name, *args):
    return reverse(f"materials:{name}", args=args)


def manual(reason, kg="10"):
    return Entered("manual", reason, to_json(Manual(reason, (), Decimal(kg))))


@pytest.fixture
def item(workshop, owner):
    """A wall in board, and by hand for the other way."""
    made = make.takeoff(title="Wall lining")
    services.add_way(item=made, entered=manual("covered in cloth"), version=1, person=owner)
    made.refresh_from_db()
    return made


def test_a_second_way_is_typed_as_a_copy_of_the_first(as_maker):
    wall, thin = make.takeoff(title="Wall lining"), make.tongued_board(thickness_mm10=75)
    page = as_maker.get(at("takeoff-way-new", wall.pk, "cladding"))
    assert 'value="2400"' in page.content.decode()
    typed = cladding(thin, title="Thin board", version=1)
    assert as_maker.post(at("takeoff-way-new", wall.pk, "cladding"), typed).status_code == 302
    wall.refresh_from_db()
    rows = way_rows(wall)
    assert [row.compared.way.name for row in rows] == ["Wall lining", "Thin board"]
    thick_kg, thin_kg = (row.compared.result.mass_kg for row in rows)
    assert (thick_kg - thin_kg) / thick_kg == Decimal("0.375")


def test_the_way_taken_gives_the_result(item, as_maker):
    assert item.result["headline"].startswith("Wall lining: 17 courses")
    as_maker.post(at("takeoff-way-take", item.pk, 1))
    item.refresh_from_db()
    assert Decimal(item.result["mass_kg"]) == 10
    assert item.title == "Wall lining"


def test_ways_stand_side_by_side_with_prices_for_those_who_see_them(item, as_owner, as_maker):
    make.price(
        "12",
        size=make.size(material_id=int(item.inputs["ways"][0]["inputs"]["material_key"]), length_mm10=24_001),
    )
    assert "Material, before offcuts" in as_owner.get(item.get_absolute_url()).content.decode()
    page = as_maker.get(item.get_absolute_url()).content.decode()
    assert "covered in cloth" in page
    assert "Material, before offcuts" not in page
    assert "£" not in page


def test_a_way_is_changed(item, as_maker):
    typed = {
        "title": "Cloth",
        "act": "save",
        "reason": "cloth on battens",
        "mass_kg": "7",
        "version": item.version,
    }
    typed |= {"lines-TOTAL_FORMS": 0, "lines-INITIAL_FORMS": 0}
    assert as_maker.post(at("takeoff-way", item.pk, 1), typed).status_code == 302
    item.refresh_from_db()
    assert item.inputs["ways"][1]["name"] == "Cloth"


def test_the_last_way_left_is_a_plain_item_again(item, as_maker):
    as_maker.post(at("takeoff-way-drop", item.pk, 1))
    item.refresh_from_db()
    assert item.kind == "cladding"
    assert "ways" not in item.inputs


def test_the_way_taken_is_not_dropped(item, as_maker):
    answer = as_maker.post(at("takeoff-way-drop", item.pk, 0), follow=True)
    assert "take another first" in answer.content.decode()
    assert TakeoffItem.objects.get(pk=item.pk).kind == "ways"


def test_dropping_one_before_the_way_taken_keeps_it_taken(item, owner):
    services.take_way(item=item, number=1, version=item.version, person=owner)
    item.refresh_from_db()
    services.add_way(item=item, entered=manual("boxed in", "3"), version=item.version, person=owner)
    item.refresh_from_db()
    services.drop_way(item=item, number=0, version=item.version, person=owner)
    item.refresh_from_db()
    assert [way["name"] for way in item.inputs["ways"]] == ["covered in cloth", "boxed in"]
    assert item.inputs["chosen"] == 0


def test_more_than_four_are_refused_in_words(item, as_maker, owner):
    for name in ("third", "fourth"):
        services.add_way(item=item, entered=manual(name), version=item.version, person=owner)
        item.refresh_from_db()
    typed = cladding(make.tongued_board(), version=item.version)
    page = as_maker.post(at("takeoff-way-new", item.pk, "cladding"), typed).content.decode()
    assert "drop one first" in page
    assert 'value="2.4 m"' in page


@pytest.mark.parametrize("name", ["takeoff-way-take", "takeoff-way-drop"])
def test_a_way_that_is_not_there(item, as_maker, name):
    assert as_maker.get(at("takeoff-way", item.pk, 9)).status_code == 404
    assert as_maker.post(at(name, 999, 0)).status_code == 404
    assert "no such way" in as_maker.post(at(name, item.pk, 9), follow=True).content.decode()


@pytest.mark.parametrize("name", ["takeoff-way-take", "takeoff-way-drop"])
def test_the_bookkeeper_and_a_get_change_nothing(item, as_bookkeeper, as_maker, name):
    assert as_bookkeeper.post(at(name, item.pk, 1)).status_code == 403
    assert as_maker.get(at(name, item.pk, 1)).status_code == 405


def test_a_save_over_somebody_elses_is_refused(item, as_maker):
    typed = cladding(make.tongued_board(), version=item.version - 1, title="Thin")
    page = as_maker.post(at("takeoff-way-new", item.pk, "cladding"), typed).content.decode()
    assert "Somebody else has changed this meanwhile" in page


@pytest.mark.parametrize("count", [1, 3])
def test_the_ways_take_the_same_queries_however_many_there_are(
    as_owner, owner, django_assert_num_queries, count
):
    item = make.takeoff()
    for number in range(count):
        board = make.tongued_board()
        inputs = {**item.inputs, "material_key": str(board.pk)} if "outline" in item.inputs else {}
        way = Entered("cladding", f"board {number}", inputs) if number == 0 else manual(f"cloth {number}")
        item = services.add_way(item=item, entered=way, version=item.version, person=owner)
    with django_assert_num_queries(WAYS_QUERIES):
        as_owner.get(item.get_absolute_url())
