"""Typing a take-off: what is kept, what is said beside the field, what htmx gets."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from materials.models import TakeoffItem
from materials.takeoff.codec import to_json
from materials.takeoff.counted import Manual, PieceLine, Pieces
from materials.takeoff.finishes import Finish, Surface
from materials.takeoff.fixings import Crossing, Fixings
from materials.takeoff.framing import Framing, Template
from materials.takeoff.lining import Landing, Lining
from materials.takeoff.outline import Opening, Outline
from materials.takeoff.setting_out import SettingOut
from materials.takeoff.shapes import ArcTop, OffsetTable, Point, Polygon, Rectangle, Station
from materials.takeoff.sheets import Part, SheetParts
from materials.takeoff.trim import End, Run, Trim
from tests import make
from tests.materials.takeoff.typed import cladding, rows, sent_back, window

pytestmark = pytest.mark.django_db


def new(phase, kind="cladding"):
    return reverse("materials:takeoff-new", args=[phase.pk, kind])


def test_a_wall_is_taken_off(as_maker):
    phase, board = make.phase(), make.tongued_board()
    answer = as_maker.post(new(phase), cladding(board, **rows("openings", window(clearance="5"))))
    item = TakeoffItem.objects.get()
    assert answer.headers["Location"] == item.get_absolute_url()
    assert (item.phase, item.title, item.material, item.rule_version) == (
        phase,
        "Left wall",
        board,
        "cladding 2",
    )
    assert item.inputs["outline"]["openings"][0]["clearance_mm10"] == 50
    assert Decimal(item.result["area_m2"]) == Decimal("4.0089")


def test_sent_twice_it_is_one_item(as_maker):
    phase, board = make.phase(), make.tongued_board()
    for _ in range(2):
        as_maker.post(new(phase), cladding(board))
    assert TakeoffItem.objects.count() == 1


def test_two_walls_alike_by_different_names_are_two(as_maker):
    phase, board = make.phase(), make.tongued_board()
    as_maker.post(new(phase), cladding(board))
    as_maker.post(new(phase), cladding(board, title="Right wall"))
    assert [item.position for item in TakeoffItem.objects.all()] == [1, 2]


def test_computing_keeps_nothing(as_maker):
    answer = as_maker.post(new(make.phase()), cladding(make.tongued_board(), act="try"))
    assert b"17 courses, 40.8 m of board" in answer.content
    assert not TakeoffItem.objects.exists()


def test_htmx_gets_the_answer_alone_and_it_is_the_same(as_maker):
    phase, board = make.phase(), make.tongued_board()
    whole = as_maker.post(new(phase), cladding(board, act="try")).content.decode()
    part = as_maker.post(new(phase), cladding(board), headers={"HX-Request": "true"}).content.decode()
    assert "<html" not in part
    assert part.strip() in whole


def test_an_htmx_look_never_saves(as_maker):
    as_maker.post(new(make.phase()), cladding(make.tongued_board()), headers={"HX-Request": "true"})
    assert not TakeoffItem.objects.exists()


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"outline-width": "tall"}, "is not a length"),
        ({"outline-width": ""}, "Measure this."),
        ({"outline-width": "-5"}, "below zero"),
        ({"outline-width": "0"}, "width must be more than nothing"),
        ({"material_key": "999999"}, "Select a valid choice"),
        ({"least_rip": "130"}, "wider than a whole board covers"),
        ({"title": ""}, "This field is required"),
        (rows("openings", window(left="2000")), "Window lies partly outside the outline"),
        (rows("openings", window(height="")), "How high?"),
        (rows("openings", window(), window(name="Lamp")), "run into each other"),
        ({"outline-shape": "polygon"}, "at least three corners"),
        ({"outline-shape": "table"}, "at least two stations"),
        ({"outline-shape": "arc"}, "Measure this."),
        ({"outline-shape": "table", "outline-widths": "900; 950; 920"}, "How far apart were they measured?"),
        ({"outline-shape": "table", "outline-every": "100", "outline-widths": "wide"}, "is not a length"),
        ({"outline-width": "900 m", "batten_spacing": "1"}, "more than 1000 battens"),
        ({"outline-height": "900 m"}, "over 1000 courses"),
        ({"openings-TOTAL_FORMS": "x"}, "Some of the rows did not arrive"),
        ({"openings-TOTAL_FORMS": "100000"}, "At most 200 rows"),
    ],
)
def test_a_bad_form_says_so_and_keeps_what_was_typed(as_maker, more, words):
    answer = as_maker.post(new(make.phase()), cladding(make.tongued_board(), **{"eye_line": "1550", **more}))
    assert answer.status_code == 200
    assert words in answer.content.decode()
    assert 'value="1550"' in answer.content.decode()
    assert not TakeoffItem.objects.exists()


def test_widths_in_a_row_are_stations_at_equal_steps(as_maker):
    typed = {"outline-shape": "table", "outline-every": "100", "outline-widths": "900; 95 cm; 920"}
    as_maker.post(new(make.phase()), cladding(make.tongued_board(), **typed))
    item = TakeoffItem.objects.get()
    assert [
        (station["along_mm10"], station["width_mm10"])
        for station in item.inputs["outline"]["shape"]["stations"]
    ] == [(0, 9_000), (1_000, 9_500), (2_000, 9_200)]
    page = as_maker.get(reverse("materials:takeoff-edit", args=[item.pk])).content.decode()
    assert 'name="stations-2-along" value="200"' in page


def test_more_rows_keep_what_was_typed(as_maker):
    typed = cladding(make.tongued_board(), act="more:openings", **rows("openings", window(name="Porthole")))
    page = as_maker.post(new(make.phase()), typed).content.decode()
    assert 'value="Porthole"' in page
    assert 'name="openings-6-name"' in page
    assert not TakeoffItem.objects.exists()


def test_an_opening_needs_no_name(as_maker):
    as_maker.post(new(make.phase()), cladding(make.tongued_board(), **rows("openings", window(name=""))))
    item = TakeoffItem.objects.get()
    assert item.inputs["outline"]["openings"][0]["name"] == ""


def test_what_is_counted_says_what_one_is(as_maker):
    make.material(kind="piece", name="Brass hinge 63 mm", unit="pair")
    make.material(kind="fixing", name="Screw 4 × 35", unit="each")
    make.material(kind="length", name="Brass rail", unit="m")
    text = as_maker.get(new(make.phase(), "pieces")).content.decode()
    for words in ("Brass hinge 63 mm (pair)", "Screw 4 × 35 (each)", "Brass rail"):
        assert f">{words}</option>" in text


def test_an_unknown_kind_and_an_unknown_phase_are_not_there(as_maker):
    assert as_maker.get(new(make.phase(), "plastering")).status_code == 404
    assert as_maker.get(reverse("materials:takeoff-new", args=[999, "cladding"])).status_code == 404


def test_the_bookkeeper_may_not(as_bookkeeper):
    phase = make.phase()
    assert as_bookkeeper.post(new(phase), cladding(make.tongued_board())).status_code == 403


def wall(shape=None):
    return Outline(shape or Rectangle(24_000, 18_000), (Opening("Window", 8_000, 0, 6_000, 5_000, 50),))


POLYGON = Polygon((Point(0, 0), Point(20_000, 0), Point(20_000, 9_000), Point(0, 12_000)))
ARC = ArcTop(24_000, 3_000, 9_000)
TABLE = OffsetTable((Station(0, 9_000), Station(10_000, 9_500), Station(24_000, 8_000)))


def one_of_each():
    board, sheet = str(make.tongued_board().pk), make.material(kind="sheet", thickness_mm10=120)
    make.size(material=sheet, length_mm10=24_400, width_mm10=12_200)
    paint, screw = make.material(kind="liquid", coverage_m2=Decimal(12)), make.material(kind="fixing")
    return [
        ("framing", Framing(wall(), board, 4_000, noggin_rows=1, templates=(Template("rib", 5_000, 4),))),
        ("framing", Framing(wall(POLYGON), board, 4_000, plates=True)),
        ("lining", Lining(wall(TABLE), str(sheet.pk), landing=Landing.BATTEN, pitch_mm10=4_000)),
        (
            "lining",
            Lining(
                wall(ArcTop(24_000, 3_000, 9_000)),
                str(sheet.pk),
                landing=Landing.HIDDEN,
                hidden_mm10=(12_000,),
            ),
        ),
        ("sheet_parts", SheetParts(str(sheet.pk), (Part("Side", 7_000, 5_000, 2, scribe_mm10=100),), 20)),
        ("trim_run", Trim(board, (Run("Rail", 9_000, 2, End.MITRE, End.SCRIBE),))),
        ("fixings", Fixings(str(screw.pk), (Crossing("Wall", 17, 7, 2),), (), Decimal(10))),
        ("finish", Finish(str(paint.pk), (Surface("Wall", area_m2=Decimal("4.5")),), 3)),
        ("pieces", Pieces((PieceLine(str(screw.pk), 8, "doors"),))),
        ("setting_out", SettingOut("Lamps", 36_000, 4, 600)),
        ("manual", Manual("offcuts", (), Decimal("2.5"))),
    ]


def complaints(entry):
    sets = [*entry.rows.values(), *(entry.outline.rows.values() if entry.outline else ())]
    return entry.troubles + entry.wanted + [errors for rowset in sets for errors in rowset.errors if errors]


def test_what_is_shown_reads_back_as_the_same_inputs(as_owner):
    for kind, inputs in one_of_each():
        item = make.takeoff(inputs, kind)
        page = as_owner.get(reverse("materials:takeoff-edit", args=[item.pk]))
        answer = as_owner.post(
            reverse("materials:takeoff-edit", args=[item.pk]),
            {**sent_back(page.context["entry"]), "title": "Again", "act": "save"},
        )
        assert answer.status_code == 302, (kind, complaints(answer.context["entry"]))
        item.refresh_from_db()
        assert item.inputs == to_json(inputs), kind
        assert item.title == "Again"


def edit(item):
    return reverse("materials:takeoff-edit", args=[item.pk])


def test_an_edit_is_computed_again(as_maker):
    item = make.takeoff()
    board = item.material or TakeoffItem.objects.get().inputs["material_key"]
    typed = cladding(make.tongued_board(), version=1, **{"outline-width": "3600", "title": "Long wall"})
    assert as_maker.post(edit(item), typed).status_code == 302
    item.refresh_from_db()
    assert (item.title, item.version, item.result["area_m2"]) == ("Long wall", 2, "6.48000000")
    assert board


def test_an_emptied_row_is_taken_out(as_maker):
    board = make.tongued_board()
    item = make.takeoff(to_inputs(board, wall()))
    typed = cladding(
        board, version=1, **rows("openings", window(name="", left="", bottom="", width="", height=""))
    )
    as_maker.post(edit(item), typed)
    item.refresh_from_db()
    assert item.inputs["outline"]["openings"] == []


def to_inputs(board, outline):
    from materials.takeoff.cladding import Cladding

    return Cladding(outline, str(board.pk))


def test_a_save_over_somebody_elses_is_refused_once_and_said(as_maker):
    board = make.tongued_board()
    item = make.takeoff(to_inputs(board, wall()), version=5, title="Theirs")
    typed = cladding(board, version=4)
    answer = as_maker.post(edit(item), typed)
    assert "Somebody else has changed this meanwhile" in answer.content.decode()
    assert 'name="version" value="5"' in answer.content.decode()
    assert as_maker.post(edit(item), {**typed, "version": 5}).status_code == 302


def test_an_archived_material_can_still_be_edited(as_maker):
    board = make.tongued_board()
    item = make.takeoff(to_inputs(board, wall()))
    board.archived_at = make.NOW
    board.save()
    assert "(put away)" in as_maker.get(edit(item)).content.decode()
    assert as_maker.post(edit(item), cladding(board, version=1)).status_code == 302


def test_what_was_entered_by_rules_no_longer_known_is_typed_again(as_maker):
    item = make.takeoff()
    TakeoffItem.objects.update(inputs={"thatch": "reed"}, result={})
    assert as_maker.get(edit(item)).status_code == 200
    assert as_maker.get(reverse("materials:takeoff-starts", args=[item.pk])).status_code == 404
    assert as_maker.post(edit(item), cladding(make.tongued_board(), version=1)).status_code == 302


@pytest.mark.parametrize("count", [1, 3])
def test_the_page_of_an_entry_takes_the_same_queries_whatever_stands_in_it(
    as_maker, django_assert_num_queries, count
):
    openings = tuple(Opening(f"W{n}", 1_000 + 6_000 * n, 1_000, 3_000, 3_000) for n in range(count))
    item = make.takeoff(to_inputs(make.tongued_board(), Outline(Rectangle(24_000, 18_000), openings)))
    for _ in range(count):
        make.tongued_board()
    with django_assert_num_queries(7):
        as_maker.get(edit(item))
