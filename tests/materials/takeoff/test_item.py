"""One item: read, removed and put back, turned to the other hand, set out from another start, on paper."""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from jobs.models import HistoryEntry
from materials.models import TakeoffItem
from materials.takeoff.cladding import Cladding, Direction
from materials.takeoff.counted import PieceLine, Pieces
from materials.takeoff.lining import Landing, Lining
from materials.takeoff.outline import Opening, Outline
from materials.takeoff.setting_out import SettingOut
from materials.takeoff.shapes import Rectangle
from tests import make

pytestmark = pytest.mark.django_db


ITEM_QUERIES, STARTS_QUERIES = 6, 7


def at(name, *args):
    return reverse(f"materials:{name}", args=args)


def test_everybody_reads_an_item(as_owner, as_maker, as_bookkeeper):
    item = make.takeoff()
    for browser in (as_owner, as_maker, as_bookkeeper):
        page = browser.get(item.get_absolute_url()).content.decode()
        assert "17 courses, 40.8 m of board" in page
        assert "2400 × 1800 = 4.32 m²" in page


def test_the_bookkeeper_is_offered_nothing_to_change(as_bookkeeper):
    page = as_bookkeeper.get(make.takeoff().get_absolute_url()).content.decode()
    assert at("takeoff-edit", TakeoffItem.objects.get().pk) not in page
    assert "Remove" not in page


def test_an_item_of_rules_no_longer_known_still_opens(as_owner):
    item = make.takeoff(kind="cladding")
    TakeoffItem.objects.update(kind="thatching", result={"straw": 3})
    page = as_owner.get(item.get_absolute_url())
    assert "rules that are no longer known" in page.content.decode()


def test_a_stranger_item_is_not_there(as_owner):
    for name in ("takeoff-item", "takeoff-edit", "takeoff-starts", "takeoff-sheet"):
        assert as_owner.get(at(name, 999)).status_code == 404
    for name in ("takeoff-turn", "takeoff-start"):
        assert as_owner.post(at(name, 999)).status_code == 404


@pytest.mark.parametrize("name", ["takeoff-remove", "takeoff-turn", "takeoff-start"])
def test_what_changes_things_is_not_got(as_owner, name):
    assert as_owner.get(at(name, make.takeoff().pk)).status_code == 405


def test_a_removed_item_can_be_put_back_once(as_maker):
    item = make.takeoff(title="Left wall")
    phase_page = as_maker.post(at("takeoff-remove", item.pk)).headers["Location"]
    assert not TakeoffItem.objects.exists()
    assert "“Left wall” was removed." in as_maker.get(phase_page).content.decode()
    as_maker.post(at("takeoff-put-back"))
    back = TakeoffItem.objects.get()
    assert (back.pk, back.title, back.inputs, back.result) == (item.pk, item.title, item.inputs, item.result)
    as_maker.post(at("takeoff-put-back"))
    assert TakeoffItem.objects.count() == 1


def test_removed_twice_it_is_gone_and_can_still_be_put_back(as_maker):
    item = make.takeoff()
    as_maker.post(at("takeoff-remove", item.pk))
    assert as_maker.post(at("takeoff-remove", item.pk)).status_code == 302
    as_maker.post(at("takeoff-put-back"))
    assert TakeoffItem.objects.exists()


def test_put_back_into_a_phase_that_is_gone_is_refused_in_words(as_maker):
    item = make.takeoff()
    as_maker.post(at("takeoff-remove", item.pk))
    item.phase.delete()
    answer = as_maker.post(at("takeoff-put-back"), follow=True)
    assert "Its phase is gone" in answer.content.decode()


def test_the_bookkeeper_changes_nothing(as_bookkeeper):
    item = make.takeoff()
    for name in ("takeoff-remove", "takeoff-turn", "takeoff-start"):
        assert as_bookkeeper.post(at(name, item.pk)).status_code == 403
    assert TakeoffItem.objects.count() == 1


def test_the_other_hand_is_a_second_item_mirrored(as_maker):
    opening = Opening("Window", 2_000, 6_000, 4_000, 4_000)
    inputs = Cladding(Outline(Rectangle(24_000, 18_000), (opening,)), str(make.tongued_board().pk))
    item = make.takeoff(inputs)
    as_maker.post(at("takeoff-turn", item.pk))
    made = TakeoffItem.objects.exclude(pk=item.pk).get()
    assert made.title == "Wall, other hand"
    assert made.inputs["outline"]["other_hand"] is True
    assert made.result["area_m2"] == item.result["area_m2"]


def test_turned_over_what_is_hidden_lies_as_far_from_the_right(as_maker):
    ply = make.sheet((24_400, 12_200, "50.00"))
    inputs = Lining(
        Outline(Rectangle(20_000, 20_000)), str(ply.pk), landing=Landing.HIDDEN, hidden_mm10=(9_000,)
    )
    item = make.takeoff(inputs, "lining")
    as_maker.post(at("takeoff-turn", item.pk))
    made = TakeoffItem.objects.exclude(pk=item.pk).get()
    as_maker.post(at("takeoff-turn", made.pk))
    back = TakeoffItem.objects.exclude(pk__in=[item.pk, made.pk]).get()
    places = [[mark["running_mm10"] for mark in each.result["marks"]] for each in (item, made, back)]
    assert places == [[9_000], [11_000], [9_000]]
    assert back.inputs == item.inputs


def test_starts_of_upright_boards_on_the_other_hand_are_named_as_made(as_maker):
    outline = Outline(Rectangle(24_000, 18_000), other_hand=True)
    item = make.takeoff(Cladding(outline, str(make.tongued_board().pk), Direction.UPRIGHT))
    rows = as_maker.get(at("takeoff-starts", item.pk)).context["rows"]
    (now,) = [(row, words) for row, words, chosen, _ in rows if chosen]
    assert (now[0].start, now[1]) == ("first_edge", "a whole board at the top, or right")
    assert now[0].last_mm10 == 1_120


def test_what_has_no_outline_has_no_other_hand(as_maker):
    piece = make.material(kind="piece")
    item = make.takeoff(Pieces((PieceLine(str(piece.pk), 2),)), "pieces")
    answer = as_maker.post(at("takeoff-turn", item.pk), follow=True)
    assert "Only what has an outline" in answer.content.decode()


def test_starts_stand_side_by_side_and_one_is_taken(as_maker):
    item = make.takeoff()
    page = as_maker.get(at("takeoff-starts", item.pk)).content.decode()
    assert page.count("<svg") == 4
    as_maker.post(at("takeoff-start", item.pk), {"start": "joint_centred"})
    item.refresh_from_db()
    assert (item.inputs["start"], item.version) == ("joint_centred", 2)


@pytest.mark.parametrize("start", ["", "middle"])
def test_a_start_that_is_none_is_refused_in_words(as_maker, start):
    answer = as_maker.post(at("takeoff-start", make.takeoff().pk), {"start": start}, follow=True)
    assert "Choose one of the starts" in answer.content.decode()


def test_only_boards_have_a_start(as_owner):
    item = make.takeoff(SettingOut("Lamps", 36_000, 4), "setting_out")
    assert as_owner.get(at("takeoff-starts", item.pk)).status_code == 404


def paper_of(browser, item):
    answer = browser.get(at("takeoff-sheet", item.pk))
    assert answer.headers["Content-Type"] == "application/pdf"
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages)


def test_the_setting_out_sheet_is_a_paper_with_every_place(as_maker):
    item = make.takeoff(SettingOut("Lamps", 30_000, 2), "setting_out", title="Reading lamps")
    text = paper_of(as_maker, item)
    for words in ("Setting out: Reading lamps", "1 1000 mm 1000 mm", "2 2000 mm 1000 mm"):
        assert words in text


def test_the_courses_of_a_wall_are_set_out_from_one_datum(as_maker):
    text = paper_of(as_maker, make.takeoff())
    for words in (
        "from the bottom edge",
        "course 16, far edge 1792 mm 112 mm",
        "course 17, far edge 1800 mm 8 mm",
    ):
        assert words in text


def test_a_phase_is_computed_again_by_todays_catalogue(as_maker):
    item = make.takeoff()
    item.phase.takeoff_items.get()
    as_maker.post(at("takeoff-compute", item.phase_id))
    assert TakeoffItem.objects.get().version == 1
    from materials.models import Material

    Material.objects.update(density_kg_m3=Decimal(1100))
    answer = as_maker.post(at("takeoff-compute", item.phase_id), follow=True)
    assert "1 came out differently" in answer.content.decode()
    assert Decimal(TakeoffItem.objects.get().result["mass_kg"]) == 2 * Decimal(item.result["mass_kg"])


def test_what_was_done_stands_in_the_history(as_maker):
    item = make.takeoff()
    as_maker.post(at("takeoff-turn", item.pk))
    as_maker.post(at("takeoff-remove", item.pk))
    as_maker.post(at("takeoff-put-back"))
    assert set(HistoryEntry.objects.values_list("action", flat=True)) >= {"taken off", "removed", "put back"}


@pytest.mark.parametrize("count", [1, 3])
def test_an_item_and_its_starts_take_the_same_queries_whatever_is_in_it(
    as_maker, django_assert_num_queries, count
):
    openings = tuple(Opening(f"W{n}", 1_000 + 6_000 * n, 1_000, 3_000, 3_000) for n in range(count))
    item = make.takeoff(Cladding(Outline(Rectangle(24_000, 18_000), openings), str(make.tongued_board().pk)))
    for _ in range(count):
        make.takeoff(phase=item.phase)
    with django_assert_num_queries(ITEM_QUERIES):
        as_maker.get(item.get_absolute_url())
    with django_assert_num_queries(STARTS_QUERIES):
        as_maker.get(at("takeoff-starts", item.pk))
