"""A maker measures a wall in the browser: it is drawn as they type, kept, and reads well on a phone."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.models import Workshop
from materials.services import ways as services
from materials.services.takeoff import Entered
from materials.takeoff.cladding import Cladding
from materials.takeoff.codec import to_json
from materials.takeoff.counted import Manual
from materials.takeoff.framing import Framing
from materials.takeoff.lining import Landing, Lining
from materials.takeoff.outline import Opening, Outline
from materials.takeoff.setting_out import SettingOut
from materials.takeoff.shapes import ArcTop, Rectangle
from tests import make
from tests.browser.conftest import DESK, PHONE

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


OAK = "?species=White+oak&sawn=flat&width=150&boards=1&from_pct=8&to_pct=12"


def measure_a_wall(page, board):
    page.select_option("[name=material_key]", str(board.pk))
    page.fill("[name=outline-width]", "2.4 m")
    page.fill("[name=outline-height]", "1800")
    page.fill("[name=openings-0-name]", "Window")
    for field, length in (("left", "800"), ("bottom", "600"), ("width", "600"), ("height", "500")):
        page.fill(f"[name=openings-0-{field}]", length)


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_it_is_drawn_as_they_type_and_kept(open_page, maker, size):
    phase, board = make.phase(), make.tongued_board()
    page = open_page(maker, size=size)
    page.goto(reverse("materials:takeoff-new", args=[phase.pk, "cladding"]))
    measure_a_wall(page, board)
    page.wait_for_selector("#answer svg path.opening")
    assert "17 courses" in page.inner_text("#answer .headline")
    page.fill("[name=openings-0-left]", "2000")
    page.wait_for_selector("#answer .amiss")
    assert "Window lies partly outside the outline" in page.inner_text("#answer")
    page.fill("[name=openings-0-left]", "1500")
    page.wait_for_selector("#answer svg")
    page.click("text=Add to the take-off")
    page.wait_for_selector("h1:has-text('Wall')")
    assert "Left to cover" in page.inner_text("main")


def test_without_script_a_button_computes(open_page, maker):
    phase, board = make.phase(), make.tongued_board()
    page = open_page(maker, java_script_enabled=False)
    page.goto(reverse("materials:takeoff-new", args=[phase.pk, "cladding"]))
    measure_a_wall(page, board)
    page.click(".acts button:has-text('Compute')")
    assert "17 courses" in page.inner_text("#answer .headline")
    assert page.input_value("[name=openings-0-name]") == "Window"
    page.press("[name=outline-width]", "Enter")
    assert "17 courses" in page.inner_text("#answer .headline")


def test_only_the_measures_of_the_chosen_shape_are_asked_for(open_page, maker):
    page = open_page(maker)
    page.goto(reverse("materials:takeoff-new", args=[make.phase().pk, "cladding"]))
    assert page.is_visible("[name=outline-width]")
    page.check("[name=outline-shape][value=arc]")
    assert page.is_visible("[name=outline-chord]")
    assert not page.is_visible("[name=outline-width]")


def addresses():
    board = str(make.tongued_board().pk)
    arched = Outline(
        ArcTop(24_000, 3_000, 18_000), (Opening("Flue", 9_000, 9_000, 1_500, 1_500, 500, is_round=True),)
    )
    phase = make.phase()
    wall = make.takeoff(Cladding(arched, board, least_rip_mm10=400), phase=phase)
    make.takeoff(Framing(Outline(Rectangle(24_000, 18_000)), board, 4_000), "framing", phase=phase)
    lamps = make.takeoff(SettingOut("Lamps", 24_000, 4, 600), "setting_out", phase=phase)
    ways = make.takeoff(title="Two ways", phase=phase)
    cloth = Entered("manual", "cloth", to_json(Manual("covered in cloth", (), Decimal(3))))
    services.add_way(item=ways, entered=cloth, version=1, person=make.person(role="owner"))
    grooved = Lining(arched, str(make.material(kind="sheet", thickness_mm10=90).pk))
    make.size(material_id=int(grooved.material_key), width_mm10=12_200)
    lined = replace(grooved, landing=Landing.GROOVE, pitch_mm10=1_000)
    panels = make.takeoff(lined, "lining", phase=phase)
    bend = reverse("materials:bending") + "?thickness=12&curve=across&radius=2550"
    move = reverse("materials:movement") + OAK
    at = {name: reverse(f"materials:{name}", args=[wall.pk]) for name in ("takeoff-edit", "takeoff-starts")}
    pages = [
        reverse("materials:takeoff", args=[phase.job_id]),
        reverse("materials:mass", args=[phase.job_id]),
    ]
    pages += [reverse("materials:phase-takeoff", args=[phase.pk]), wall.get_absolute_url(), bend, move]
    pages += [ways.get_absolute_url(), panels.get_absolute_url(), reverse("materials:operation-hours")]
    on_boards = reverse("materials:takeoff-new", args=[phase.pk, "setting_out"])
    return [*pages, *at.values(), lamps.get_absolute_url(), on_boards]


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_pages_are_clean_to_the_accessibility_checker_and_fit(open_page, owner, amiss, size, dark):
    """The dark ones in a workshop of feet and inches, whose figures are longer."""
    Workshop.objects.update(measurement="feet" if dark else "metric")
    page = open_page(owner, size=size, dark=dark)
    for address in addresses():
        page.goto(address)
        assert amiss(page) == [], address
