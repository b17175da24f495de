"""The catalogue as calculation sees it: sizes, packs, masses by the unit they are given in."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.lengths import System
from materials.queries.plan_tasks import SawSettings
from materials.queries.specs import catalogue_of
from materials.services.plans import plan_cutting
from materials.takeoff.costing import material_cost
from materials.takeoff.result import Piece, Result
from tests import make

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("workshop")]


def spec(material):
    return catalogue_of([str(material.pk)]).spec(str(material.pk))


def test_a_board_has_lengths_with_their_best_price():
    board = make.material(width_mm10=1190, tongue_mm10=70, thickness_mm10=120)
    size = make.size(material=board)
    for amount in ("12", "9"):
        make.price(amount, size=size)
    found = spec(board)
    assert found.cover_mm10 == 1120
    assert [(stock.length_mm10, stock.price) for stock in found.stock] == [(24_000, Decimal(9))]
    assert found.packs == ()


def test_a_board_sold_in_packs_costs_its_share_of_the_pack():
    board = make.material()
    make.price("60", size=make.size(material=board, length_mm10=30_000, pack_quantity=Decimal(6)))
    catalogue = catalogue_of([str(board.pk)])
    assert spec(board).stock[0].price == 10
    one = Result("cladding 1", "", pieces=(Piece(str(board.pk), 30_000),))
    assert material_cost(one, catalogue).amount == 10


def test_the_cover_width_goes_before_the_tongue():
    assert spec(make.material(width_mm10=1190, tongue_mm10=70, cover_width_mm10=1100)).cover_mm10 == 1100


def test_a_liquid_has_packs():
    paint = make.material(kind="liquid", coverage_m2=Decimal(12))
    make.price("50", size=make.size(material=paint, length_mm10=None, pack_quantity=Decimal(5)))
    found = spec(paint)
    assert [(pack.quantity, pack.price) for pack in found.packs] == [(Decimal(5), Decimal(50))]
    assert found.coverage_m2_per_litre == 12


@pytest.mark.parametrize(
    ("kind", "unit", "counts"),
    [
        ("board", "m", True),
        ("board", "each", False),
        ("length", "metre", True),
        ("sheet", "m2", True),
        ("sheet", "m²", True),
        ("sheet", "each", False),
        ("piece", "each", True),
        ("liquid", "litre", True),
    ],
)
def test_a_mass_counts_only_in_the_unit_that_is_reckoned_by(kind, unit, counts):
    material = make.material(kind=kind, unit=unit, mass_per_unit_kg=Decimal("1.5"))
    assert (spec(material).mass_per_unit_kg is not None) is counts


@pytest.mark.parametrize("count", [1, 3])
def test_three_queries_whatever_is_named(django_assert_num_queries, count):
    keys = [str(make.price().size.material_id) for _ in range(count)]
    with django_assert_num_queries(4):
        assert len(catalogue_of(keys).materials) == count


def test_the_trim_of_sheets_is_the_one_that_was_planned_with_last(owner, django_assert_num_queries):
    ply = make.sheet((24_400, 12_200, "50.00"))
    with django_assert_num_queries(5):
        assert catalogue_of([str(ply.pk)]).trim_mm10 == 50  # the usual one, before any plan
    board = make.tongued_board()
    assert catalogue_of([str(board.pk)]).trim_mm10 == 0
    job = make.job()
    make.taken_off(ply, (24_400, 12_200, 1), phase=make.phase(job=job))
    plan_cutting(job=job, person=owner, settings={ply.pk: SawSettings(trim_mm10=0)})
    assert catalogue_of([str(ply.pk)]).trim_mm10 == 0


def test_what_is_not_there_is_left_out():
    assert catalogue_of(["999", "", "board"]).materials == {}


def test_lengths_are_shown_in_the_workshops_system(workshop):
    workshop.measurement = "feet"
    workshop.save()
    assert catalogue_of([]).system is System.FEET
