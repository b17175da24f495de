"""The desk calculators: asked, not asked, and asked amiss."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

pytestmark = pytest.mark.django_db

BEND = {"thickness": "1/2 in", "curve": "across", "radius": "2550"}
KERF = {"thickness": "18", "radius": "300", "degrees": "90", "kerf": "3", "skin": "3"}
OAK = {
    "species": "White oak",
    "sawn": "flat",
    "width": "150",
    "boards": "10",
    "from_pct": "8",
    "to_pct": "12",
}


@pytest.fixture
def bend(as_maker):
    return lambda **asked: as_maker.get(reverse("materials:bending"), asked)


@pytest.fixture
def move(as_maker):
    return lambda **asked: as_maker.get(reverse("materials:movement"), asked)


def test_unasked_they_say_nothing(bend, move):
    assert bend().context["bend"] is None
    assert move().context["answer"] is None


def test_half_inch_across_but_not_along(bend):
    assert bend(**BEND).context["bend"].allowed
    assert not bend(**{**BEND, "curve": "along"}).context["bend"].allowed


def test_a_chord_and_rise_stand_for_the_radius(bend):
    asked = {**BEND, "radius": "", "chord": "2400", "rise": "300"}
    assert bend(**asked).context["bend"].radius_mm10 == 25_500


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"radius": ""}, "Measure the radius of the bend"),
        ({"thickness": ""}, "This field is required"),
        ({"radius": "", "chord": "2400"}, "no rise the edge is straight"),
        ({"radius": "", "chord": "100", "rise": "200"}, "rise is more than the chord"),
    ],
)
def test_a_bend_asked_amiss(bend, more, words):
    page = bend(**{**BEND, **more})
    assert page.context["bend"] is None
    assert words in page.content.decode()


def test_kerfs_are_spaced(bend):
    kerfs = bend(**KERF).context["kerfs"]
    assert (kerfs.count, kerfs.spacing_mm10) == (8, 583)


def test_a_skin_thicker_than_the_sheet_is_refused(bend):
    assert "must be thinner than the sheet" in bend(**{**KERF, "skin": "20"}).content.decode()


def test_a_wall_of_oak_moves(move):
    answer = move(**OAK).context["answer"]
    assert (answer.movement.all_mm, answer.gap_mm) == (Decimal("21.90"), Decimal("22.0"))


def test_outside_the_coefficients_it_warns(move):
    assert "no longer hold" in move(**{**OAK, "to_pct": "20"}).content.decode()


@pytest.mark.parametrize("more", [{"to_pct": "31"}, {"width": "0"}, {"boards": "0"}, {"species": "Balsa"}])
def test_movement_asked_amiss(move, more):
    assert move(**{**OAK, **more}).context["answer"] is None
