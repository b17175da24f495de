"""Material comes into a draft from take-offs and plans, to the penny, and again when they change."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.models import Phase
from materials.models import Material, TakeoffItem
from materials.queries.line_mass import mass_of, masses_of_lines
from materials.queries.material_lines import PhaseMaterial
from materials.queries.plans import material_of_job
from materials.queries.takeoff import stored_result
from materials.services.plans import plan_cutting
from materials.takeoff.cladding import Cladding
from materials.takeoff.outline import Outline
from materials.takeoff.shapes import Point, Polygon
from quotes.models import QuoteLine
from quotes.queries.figures import figures_of
from quotes.services import drafting
from quotes.services.bringing_in import BroughtIn, bring_in_materials
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


@pytest.fixture
def wanted():
    """A phase that takes 45 screws, sold in packs of 20 at 3.33."""
    screw = make.material(kind="fixing", name="Screw 4 × 40", unit="each")
    pack = make.size(material=screw, length_mm10=None, pack_quantity=Decimal(20))
    make.price("3.33", size=pack)
    phase = make.phase()
    quantities = [{"material_key": str(screw.pk), "amount": "45", "unit": "each"}]
    TakeoffItem.objects.create(
        phase=phase, kind="fixings", title="Screws", material=screw, result={"quantities": quantities}
    )
    return phase


def brought(quote, owner):
    return bring_in_materials(quote=quote, person=owner)


def test_lines_cost_what_is_bought_to_the_penny(wanted, owner):
    quote = make.quote(job=wanted.job)
    assert brought(quote, owner).added == 1
    line = QuoteLine.objects.get()
    assert (line.description, line.quantity, line.whole_cost) == ("Screw 4 × 40", 45, Decimal("9.99"))
    assert figures_of(quote, on=quote.created_at.date()).priced.cost == Decimal("9.99")


def test_a_line_weighs_what_the_catalogue_says(wanted, owner):
    quote = make.quote(job=wanted.job)
    Material.objects.update(mass_per_unit_kg=Decimal("0.004"))
    brought(quote, owner)
    assert QuoteLine.objects.get().mass_kg == Decimal("0.18")
    assert figures_of(quote, on=quote.created_at.date()).priced.mass_kg == Decimal("0.18")


def test_a_mass_typed_by_hand_stays_where_the_catalogue_cannot_say(wanted, owner):
    quote = make.quote(job=wanted.job)
    brought(quote, owner)
    QuoteLine.objects.update(mass_kg=Decimal(2))
    assert brought(quote, owner).renewed == 0
    assert QuoteLine.objects.get().mass_kg == 2


@pytest.mark.parametrize(
    ("kind", "unit", "fields", "mass"),
    [
        ("board", "m", {"thickness_mm10": 120, "cover_width_mm10": 1120}, "6.72"),  # 10 × 0.112 × 0.012 × 500
        ("sheet", "m²", {"thickness_mm10": 120}, "60"),  # 10 × 0.012 × 500
        ("fixing", "each", {}, None),  # a density says nothing of a screw
    ],
)
def test_mass_is_length_or_area_by_section_by_density(kind, unit, fields, mass):
    material = make.material(kind=kind, density_kg_m3=Decimal(500), **fields)
    assert mass_of(material, Decimal(10), unit) == (None if mass is None else Decimal(mass))


def test_a_phase_weighs_in_the_quote_what_its_take_off_says(owner):
    """A gable of 4.32 m² is cut from 39.8 m of board that covers 112 mm: 4.46 m²."""
    phase, board = make.phase(), make.tongued_board()
    make.price("10.00", size=board.sizes.get())
    gable = Outline(Polygon((Point(0, 0), Point(24_000, 0), Point(12_000, 36_000))))
    item = make.takeoff(Cladding(gable, str(board.pk)), phase=phase)
    fitted = stored_result(item).mass_kg
    (cut,) = (line for line in material_of_job(phase.job).lines if line.is_cut)
    assert mass_of(board, cut.quantity, "m") > fitted
    plan_cutting(job=phase.job, person=owner)
    quote = make.quote(job=phase.job)
    brought(quote, owner)
    assert figures_of(quote, on=quote.created_at.date()).priced.mass_kg == fitted


@given(
    metres=st.lists(st.integers(1, 500), min_size=1, max_size=5),
    screws=st.integers(0, 500),
    fitted=st.integers(1, 2_000_000),
)
def test_cut_lines_share_what_is_fitted_to_the_gram(metres, screws, fitted):
    board = Material(kind="board", thickness_mm10=120, cover_width_mm10=1120, density_kg_m3=Decimal(550))
    screw = Material(kind="fixing", unit="each", mass_per_unit_kg=Decimal("0.004"))
    lines = [
        PhaseMaterial(1, replaced(board, at), Decimal(m), "m", None, True) for at, m in enumerate(metres)
    ]
    lines.append(PhaseMaterial(1, replaced(screw, 99), Decimal(screws), "each", None))
    counted, total = screws * Decimal("0.004"), Decimal(fitted).scaleb(-3)
    masses = masses_of_lines(lines, {1: total})
    assert masses[1, "99 each"] == counted
    cut = sum(masses.values()) - counted
    assert cut == (
        total - counted if total > counted else sum(mass_of(board, Decimal(m), "m") for m in metres)
    )


def test_where_no_take_off_weighs_it_a_line_weighs_what_is_cut():
    board = Material(
        pk=1, kind="board", thickness_mm10=120, cover_width_mm10=1120, density_kg_m3=Decimal(500)
    )
    line = PhaseMaterial(1, board, Decimal(10), "m", None, True)
    assert masses_of_lines([line], {}) == {(1, "1 cut"): Decimal("6.72")}


def replaced(material, pk):
    """The same material under another number."""
    fields = {one.attname: getattr(material, one.attname) for one in Material._meta.concrete_fields}
    return Material(**{**fields, "id": pk})


def test_again_it_renews_and_never_doubles(wanted, owner):
    quote = make.quote(job=wanted.job)
    brought(quote, owner)
    QuoteLine.objects.update(description="Screws for the lining")
    item = TakeoffItem.objects.get()
    item.result["quantities"][0]["amount"] = "61"
    item.save()
    assert (brought(quote, owner).renewed, QuoteLine.objects.get().whole_cost) == (1, Decimal("13.32"))
    assert QuoteLine.objects.get().description == "Screws for the lining"
    assert brought(quote, owner).renewed == 0


def test_what_is_no_longer_wanted_is_taken_off_and_a_hand_line_stays(wanted, owner):
    quote = make.quote(job=wanted.job)
    brought(quote, owner)
    by_hand = make.quote_line(quote=quote)
    TakeoffItem.objects.all().delete()
    assert brought(quote, owner).taken_off == 1
    assert QuoteLine.objects.get() == by_hand


def test_a_unit_cost_typed_by_hand_stands_for_itself(wanted, owner):
    quote = make.quote(job=wanted.job)
    brought(quote, owner)
    line = QuoteLine.objects.get()
    fields = {
        "kind": "material",
        "description": "Screws",
        "quantity": Decimal(45),
        "unit_cost": Decimal("0.30"),
    }
    drafting.change_line(line=line, version=line.version, person=owner, fields=fields)
    assert figures_of(quote, on=quote.created_at.date()).priced.cost == Decimal("13.50")


@pytest.fixture
def rails(owner) -> Phase:
    """Three rails cut, one to a length at 10, and two lengths counted besides."""
    phase = make.phase()
    rail = make.board((24000, "10.00"), name="Rail", kind="length")
    make.taken_off(rail, (20000, 3), phase=phase)
    make.amount_taken_off(rail, "2", phase=phase)
    plan_cutting(job=phase.job, person=owner)
    return phase


def saw_more(phase, owner, number=10):
    item = TakeoffItem.objects.get(kind="pieces")
    item.result["pieces"][0]["quantity"] = number
    item.save()
    plan_cutting(job=phase.job, person=owner)


def figures(quote):
    return sorted(quote.lines.values_list("phase", "quantity", "unit", "whole_cost"))


def test_what_is_both_cut_and_counted_is_renewed_each_by_itself(rails, owner):
    quote = make.quote(job=rails.job)
    assert brought(quote, owner).added == 2
    saw_more(rails, owner)
    assert brought(quote, owner).renewed == 1
    assert figures(quote) == [(rails.pk, 2, "each", 20), (rails.pk, 20, "m", 100)]


def test_lines_of_an_older_draft_are_known_by_their_unit(rails, owner):
    """They named the material alone, so that one of the two was never renewed."""
    quote = make.quote(job=rails.job)
    brought(quote, owner)
    QuoteLine.objects.update(source_ref=str(Material.objects.get(name="Rail").pk))
    QuoteLine.objects.filter(unit="m").update(description="Rails, sawn")
    saw_more(rails, owner)
    done = brought(quote, owner)
    assert (done.added, done.renewed, done.taken_off) == (0, 1, 0)
    assert QuoteLine.objects.get(description="Rails, sawn").whole_cost == 100
    assert QuoteLine.objects.get(unit="each").whole_cost == 20


def test_a_line_of_an_older_draft_is_kept_whatever_unit_was_typed(wanted, owner):
    quote = make.quote(job=wanted.job)
    brought(quote, owner)
    screw = str(Material.objects.get().pk)
    QuoteLine.objects.update(source_ref=screw, unit="screws", description="For the lining")
    done = brought(quote, owner)
    assert (done.added, done.renewed, done.taken_off) == (0, 0, 0)
    assert QuoteLine.objects.get().description == "For the lining"


needs = st.tuples(st.sampled_from("ab"), st.sampled_from(["cut", "counted"]), st.integers(1, 4))


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(needs, max_size=4), min_size=1, max_size=3))
def test_brought_in_again_it_says_what_it_would_say_brought_in_once(owner, changes):
    job = make.job()
    phases = {name: make.phase(job=job) for name in "ab"}
    rail = make.board((24000, "10.00"), kind="length")
    quote = make.quote(job=job)
    for change in changes:
        TakeoffItem.objects.filter(phase__job=job).delete()
        for name, how, number in change:
            if how == "cut":
                make.taken_off(rail, (11000, number), phase=phases[name])
            else:
                make.amount_taken_off(rail, str(number), phase=phases[name])
        plan_cutting(job=job, person=owner)
        brought(quote, owner)
    once = make.quote(job=job)
    brought(once, owner)
    assert figures(quote) == figures(once)
    assert sum(line.whole_cost for line in quote.lines.all()) == material_of_job(job).cost


@pytest.mark.parametrize(("added", "said"), [(0, "0 lines added"), (1, "1 line added"), (2, "2 lines added")])
def test_lines_are_counted_in_words(added, said):
    assert BroughtIn(added, 0, 0, ()).in_words() == f"{said}, 0 renewed, 0 taken off."
