"""Fittings set out on the courses or battens of another item, and moving with them."""

from __future__ import annotations

import pytest
from django.urls import reverse

from jobs.services.copying import copy_phases
from materials.models import TakeoffItem
from materials.services import takeoff as services
from materials.services.takeoff import Entered
from materials.takeoff.cladding import Cladding
from materials.takeoff.codec import to_json
from materials.takeoff.framing import Framing
from materials.takeoff.outline import Outline
from materials.takeoff.setting_out import SettingOut
from materials.takeoff.shapes import Rectangle
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


def lamps(wall, **more):
    return {
        "title": "Lamps",
        "name": "Lamps",
        "run": "1800",
        "count": "2",
        "size": "",
        "spacing": "equal_gaps",
        "snap_item": str(wall.pk),
        "act": "save",
        **more,
    }


def middles(item):
    return [mark["running_mm10"] for mark in item.result["marks"]]


@pytest.fixture
def wall(workshop):
    """17 courses of 112 mm up a wall of 1800 mm, from the bottom: middles at 56, 168, 280 … mm."""
    return make.takeoff(title="North wall")


@pytest.fixture
def set_out(wall, as_maker):
    address = reverse("materials:takeoff-new", args=[wall.phase_id, "setting_out"])
    assert "North wall: centre lines of the courses" in as_maker.get(address).content.decode()
    assert as_maker.post(address, lamps(wall)).status_code == 302
    return TakeoffItem.objects.get(kind="setting_out")


def test_lamps_fall_on_the_middles_of_boards(set_out):
    assert middles(set_out) == [6_160, 11_760]
    assert all((place - 560) % 1_120 == 0 for place in middles(set_out))


def test_they_move_when_the_wall_is_set_out_anew(set_out, wall, maker):
    inputs = to_json(
        Cladding(Outline(Rectangle(24_000, 18_000)), wall.inputs["material_key"], start="last_edge")
    )
    services.change_item(
        item=wall, entered=Entered("cladding", wall.title, inputs), version=wall.version, person=maker
    )
    set_out.refresh_from_db()
    assert all((18_000 - place - 560) % 1_120 == 0 for place in middles(set_out))
    assert set_out.version == 2


def test_saved_again_as_it_is_nothing_changes(set_out, wall, as_maker):
    as_maker.post(reverse("materials:takeoff-edit", args=[set_out.pk]), lamps(wall, version="1"))
    set_out.refresh_from_db()
    assert set_out.version == 1


def test_battens_can_be_chosen_and_a_gone_item_leaves_its_lines(wall, maker, as_maker):
    board = wall.inputs["material_key"]
    battens = make.takeoff(
        Framing(Outline(Rectangle(24_000, 18_000)), board, 4_000),
        "framing",
        phase=wall.phase,
        title="Battens",
    )
    inputs = to_json(SettingOut("Hooks", 24_000, 3, snap_item=battens.pk))
    item = services.add_item(phase=wall.phase, entered=Entered("setting_out", "Hooks", inputs), person=maker)
    before = middles(item)
    services.remove_item(item=battens, person=maker)
    services.compute_again(phase=wall.phase, person=maker)
    item.refresh_from_db()
    assert middles(item) == before


def test_a_copied_phase_is_set_out_on_its_own_wall(set_out, wall):
    new = make.phase()
    copy_phases({wall.phase: new})
    copied = TakeoffItem.objects.get(kind="setting_out", phase=new)
    assert copied.inputs["snap_item"] == TakeoffItem.objects.get(kind="cladding", phase=new).pk
