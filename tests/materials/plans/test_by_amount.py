"""What is put in by hand in metres, square metres, pieces or tins becomes whole stock to buy."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.models import Phase
from materials.models import Material
from materials.queries.by_amount import Asked
from materials.queries.line_mass import mass_of
from materials.queries.plans import material_of_job
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")
BY_LENGTH = "for 12 m, by length"
SKIRTING = {"kind": "length", "name": "Skirting", "width_mm10": 1000, "thickness_mm10": 150}


def skirting() -> Material:
    """In two lengths."""
    return make.board((24000, "10.00"), (48000, "18.00"), **SKIRTING)


def ply() -> Material:
    """A sheet is 2.9768 m²."""
    return make.sheet((24400, 12200, "50.00"), name="Ply", thickness_mm10=120)


def cladding() -> Material:
    """A board covers 2.4 × 0.112 = 0.2688 m²."""
    return make.board((24000, "5.00"), name="Cladding", width_mm10=1190, tongue_mm10=70)


def edging() -> Material:
    """By the roll of 50 m."""
    material = make.material(name="Edging", kind="piece", unit="m")
    make.price("12.00", size=make.size(material=material, length_mm10=None, pack_quantity=50))
    return material


def oil() -> Material:
    """By the tin of 5 l."""
    material = make.material(name="Oil", kind="liquid", unit="l", mass_per_unit_kg=Decimal("0.9"))
    make.price("80.00", size=make.size(material=material, length_mm10=None, pack_quantity=5))
    return material


def bought(phase: Phase) -> list[tuple[int, str, str]]:
    return sorted((line.count, line.words, line.said) for line in material_of_job(phase.job).to_buy)


@pytest.mark.parametrize(
    ("of", "amount", "unit", "expected", "cost"),
    [
        (skirting, "12", "m", [(1, "2400 mm", BY_LENGTH), (2, "4800 mm", BY_LENGTH)], 46),
        (skirting, "4", "each", [(4, "2400 mm", "4 counted, of the cheapest size")], 40),
        (ply, "8.9", "m²", [(3, "2440 × 1220 mm", "for 8.9 m², by area")], 150),
        (ply, "2", "each", [(2, "2440 × 1220 mm", "")], 100),
        (cladding, "3", "m²", [(12, "2400 mm", "for 3 m², by area")], 60),
        (edging, "60", "m", [(2, "50 m", "")], 24),
        (edging, "3", "each", [(3, "50 m", "")], 36),
        (oil, "6", "litre", [(2, "5 l", "")], 160),
        (oil, "2", "each", [(2, "5 l", "")], 160),
    ],
)
def test_an_amount_becomes_whole_stock(of, amount, unit, expected, cost):
    item = make.amount_taken_off(of(), amount, unit=unit)
    assert bought(item.phase) == expected
    found = material_of_job(item.phase.job)
    assert (found.cost, found.gaps) == (cost, ())


@pytest.mark.parametrize(
    ("of", "unit", "words"),
    [
        (ply, "m", "Ply: 7 m cannot be turned into whole sheets"),
        (skirting, "litre", "Skirting: 7 litre cannot be turned into whole lengths"),
        (oil, "m²", "Oil: 7 m² cannot be turned into whole packs"),
    ],
)
def test_a_unit_that_says_nothing_of_how_many_is_told_and_costs_nothing(of, unit, words):
    item = make.amount_taken_off(of(), "7", unit=unit)
    found = material_of_job(item.phase.job)
    assert (found.to_buy, found.gaps, found.lines[0].cost) == ((), (words,), None)


def test_amounts_in_different_units_are_kept_apart():
    tins = oil()
    item = make.amount_taken_off(tins, "2", unit="each")
    make.amount_taken_off(tins, "0.5", phase=item.phase)
    lines = [(line.quantity, line.unit, line.cost) for line in material_of_job(item.phase.job).lines]
    assert lines == [(2, "each", 160), (Decimal("0.5"), "litre", 80)]


@pytest.mark.parametrize(
    ("of", "unit", "mass"),
    [
        (ply, "m²", "60"),  # 10 m² × 0.012 × 500
        (ply, "each", None),  # of which size is not said
        (skirting, "m", "7.5"),  # 10 m × 0.1 × 0.015 × 500
        (oil, "litre", "9"),
        (oil, "each", None),
    ],
)
def test_it_weighs_what_its_unit_says(of, unit, mass):
    material = of()
    material.density_kg_m3 = Decimal(500)
    assert mass_of(material, Decimal(10), unit) == (None if mass is None else Decimal(mass))


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.tuples(st.integers(0, 1), st.decimals("0.01", 40, places=2)), min_size=1, max_size=4),
    st.lists(st.decimals("0", "99.99", places=2), min_size=1, max_size=3),
)
def test_what_is_bought_holds_it_and_the_phases_bear_what_it_costs(workshop, amounts, prices):
    job = make.job()
    phases = [make.phase(job=job), make.phase(job=job)]
    lengths = [(24000 + 6000 * at, str(price)) for at, price in enumerate(prices)]
    material = make.board(*lengths, **SKIRTING)
    for at, amount in amounts:
        make.amount_taken_off(material, str(amount), unit="m", phase=phases[at])
    found = material_of_job(job)
    asked = Asked(material, "m", {})
    held = {size.pk: asked.held_by(size) for size in material.sizes.all()}
    assert sum(line.count * held[line.size_id] for line in found.to_buy) >= sum(
        amount for _, amount in amounts
    )
    assert found.cost == sum(line.count * line.price for line in found.to_buy)
    assert sum(found.cost_by_phase().values()) == found.cost
