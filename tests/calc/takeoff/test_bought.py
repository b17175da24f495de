"""What is bought and not cut: fixings, finishes, beads, pieces, packs, and what is put in by hand."""

import itertools
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff import counted, finishes, fixings
from materials.takeoff.counted import Manual, ManualLine, PieceLine, Pieces
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.finishes import Bead, Beads, Finish, Surface
from materials.takeoff.fixings import Crossing, EdgeRow, Fixings
from materials.takeoff.packs import choose_packs, quantities
from materials.takeoff.result import Unit
from materials.takeoff.specs import MaterialSpec, PackSize
from tests.calc.takeoff.hand import CATALOGUE


def sizes(*given_sizes, prices=()):
    priced = prices or (None,) * len(given_sizes)
    return tuple(
        PackSize(Decimal(str(q)), p and Decimal(p)) for q, p in zip(given_sizes, priced, strict=True)
    )


@pytest.mark.parametrize(
    ("amount", "packs", "expected"),
    [
        ("7.5", sizes(5), [(5, 2)]),
        ("7.5", sizes(5, 2.5), [(5, 1), (2.5, 1)]),
        ("0.2", sizes(5, 2.5, 1), [(1, 1)]),
        ("7.5", sizes(5, 2.5, prices=("50", "60")), [(5, 2)]),
        ("200", sizes(200), [(200, 1)]),
        ("201", sizes(200), [(200, 2)]),
        ("3", (), [(1, 3)]),
        ("0", sizes(5), []),
        ("20", sizes(1, 2.5, 5, prices=("14.50", "37", "75")), [(1, 20)]),
        ("180", sizes(20, 5, prices=("3.24", "0.69")), [(5, 36)]),
        ("26", sizes(20, 10, 5, prices=("4", "2", "1")), [(20, 1), (10, 1)]),
        ("48", sizes(4.8, 2.4, prices=("20", "5")), [(2.4, 20)]),
        ("7", sizes(5, 1, prices=("30", "7")), [(5, 1), (1, 2)]),
    ],
)
def test_packs(amount, packs, expected):
    found = choose_packs(Decimal(amount), packs)
    assert [(float(size.quantity), count) for size, count in found] == expected


@given(st.decimals(0, 500, places=2), st.lists(st.integers(1, 50), min_size=1, max_size=4, unique=True))
def test_packs_hold_the_amount_and_none_is_idle(amount, quantities_of):
    spec = MaterialSpec("m", "Oil", "liquid", packs=sizes(*quantities_of))
    found = quantities(spec, amount, Unit.LITRE)
    held = sum(each.pack_size * each.packs for each in found)
    assert sum(each.amount for each in found) == amount
    assert held >= amount
    assert held - amount < min(quantities_of)


def rank(found, amount, priced):
    held = sum(size.quantity * count for size, count in found)
    price = sum(size.price * count for size, count in found) if priced else 0
    return price, held - amount, sum(count for _, count in found)


def every_choice(amount, packs):
    """All numbers of packs that could be the best: of each size up to as many as hold the amount alone."""
    numbers = (range(int(amount / size.quantity) + 2) for size in packs)
    for counts in itertools.product(*numbers):
        if sum(size.quantity * count for size, count in zip(packs, counts, strict=True)) >= amount:
            yield list(zip(packs, counts, strict=True))


SOLD_IN = st.lists(
    st.tuples(st.sampled_from(["0.75", "1", "2.5", "3", "5", "7", "20"]), st.integers(1, 40)),
    min_size=1,
    max_size=3,
    unique_by=lambda size: size[0],
)


@given(st.decimals("0.1", 25, places=1), SOLD_IN, st.booleans())
def test_no_other_packs_are_better(amount, sold_in, priced):
    packs = tuple(PackSize(Decimal(held), Decimal(price) if priced else None) for held, price in sold_in)
    best = min(rank(choice, amount, priced) for choice in every_choice(amount, packs))
    assert rank(choose_packs(amount, packs), amount, priced) == best


@given(
    st.lists(st.tuples(st.integers(1, 60), st.integers(1, 900)), min_size=1, max_size=4), st.integers(1, 9)
)
def test_as_many_again_of_the_best_value_fill_a_large_amount(sold_in, more):
    """Beyond what the others can be needed for, each further amount of the best value is one pack of it."""
    packs = tuple(PackSize(Decimal(held), Decimal(price)) for held, price in sold_in)
    best = min(packs, key=lambda size: (size.price / size.quantity, -size.quantity))
    amount = Decimal(60 * 60)
    few = rank(choose_packs(amount, packs), amount, True)
    larger = amount + more * best.quantity
    many = rank(choose_packs(larger, packs), larger, True)
    assert many == (few[0] + more * best.price, few[1], few[2] + more)


@pytest.mark.parametrize(
    "packs",
    [
        sizes(20, 50, 200, prices=("1.90", "4.10", "15")),
        sizes(333, 500, 1000, prices=("33.30", "50", "100")),
        sizes("0.7501", "2.4999", "25.0001", prices=("9", "31", "300")),
        sizes("0.0001", 10_000, prices=("0.01", "90")),
    ],
)
def test_a_million_is_held_for_hardly_more_than_the_best_value(packs):
    price, over, _ = rank(choose_packs(Decimal(1_000_000), packs), 1_000_000, True)
    assert over >= 0
    assert price <= Decimal("1.0001") * 1_000_000 * min(size.price / size.quantity for size in packs)


def test_crossings_and_edges_add_up():
    inputs = Fixings(
        "screw", (Crossing("Wall", 22, 7, 2),), (EdgeRow("Edge", 24_500, 3_000, 2),), Decimal(10)
    )
    result = fixings.take_off(inputs, CATALOGUE)
    assert [(each.amount, each.packs) for each in result.quantities] == [(Decimal(361), 2)]


def test_screws_are_told_their_least_length():
    result = fixings.take_off(Fixings("screw", (Crossing("Wall", 2, 2),), fixed_mm10=120), CATALOGUE)
    assert "at least 30 mm long" in result.cautions[0]


@pytest.mark.parametrize(
    "inputs",
    [
        Fixings("screw"),
        Fixings("screw", (Crossing("Wall", 0, 2),)),
        Fixings("screw", (), (EdgeRow("Edge", 100, 0),)),
        Fixings("screw", (Crossing("Wall", 2, 2),), spare_pct=Decimal(-1)),
    ],
)
def test_fixings_of_nothing_are_refused(inputs):
    with pytest.raises(MeasureAgain):
        fixings.take_off(inputs, CATALOGUE)


def test_a_finish_by_area_and_by_size():
    surfaces = (Surface("Wall", 45_000, 5_000, 2), Surface("Ends", area_m2=Decimal("1.5")))
    result = finishes.take_off(Finish("paint", surfaces, 2), CATALOGUE)
    assert (result.area_m2, result.quantities[0].amount) == (Decimal(6), Decimal(1))
    assert result.mass_kg == Decimal("1.3")


def test_the_coverage_on_the_tin_goes_before_the_catalogue():
    inputs = Finish("paint", (Surface("Wall", 10_000, 10_000),), 1, Decimal(4), Decimal(10))
    assert finishes.take_off(inputs, CATALOGUE).quantities[0].amount == Decimal("0.275")


@pytest.mark.parametrize(
    ("inputs", "field"),
    [
        (Finish("paint", ()), "surfaces"),
        (Finish("paint", (Surface("Wall"),)), "surfaces"),
        (Finish("paint", (Surface("Wall", 10, 10, 0),)), "surfaces"),
        (Finish("paint", (Surface("Wall", 10, 10),), 0), "coats"),
        (Finish("hinge", (Surface("Wall", 10, 10),)), "coverage"),
        (Finish("paint", (Surface("Wall", 10, 10),), spare_pct=Decimal(-5)), "spare"),
    ],
)
def test_a_finish_of_nothing_is_refused(inputs, field):
    with pytest.raises(MeasureAgain) as caught:
        finishes.take_off(inputs, CATALOGUE)
    assert caught.value.field == field


def test_a_bead_is_its_section_by_its_length():
    result = finishes.take_off_beads(Beads("paint", (Bead("Edge", 25_000, 4),), 60), CATALOGUE)
    assert result.quantities[0].amount == Decimal("0.283")


@pytest.mark.parametrize("inputs", [Beads("paint", (), 60), Beads("paint", (Bead("Edge", 10),), 0)])
def test_a_bead_of_nothing_is_refused(inputs):
    with pytest.raises(MeasureAgain):
        finishes.take_off_beads(inputs, CATALOGUE)


def test_pieces_are_counted():
    result = counted.take_off(Pieces((PieceLine("hinge", 8, "doors"),)), CATALOGUE)
    assert (result.headline, result.mass_kg) == ("8 pieces", Decimal("0.8"))


@pytest.mark.parametrize("lines", [(), (PieceLine("hinge", 0),), (PieceLine("gone", 1),)])
def test_no_pieces_are_refused(lines):
    with pytest.raises(MeasureAgain):
        counted.take_off(Pieces(lines), CATALOGUE)


def test_by_hand_keeps_its_reason_and_warns():
    inputs = Manual("offcuts from the rack", (ManualLine("board", Decimal(10), Unit.METRE),), Decimal("2.5"))
    result = counted.take_by_hand(inputs, CATALOGUE)
    assert result.mass_kg == Decimal("9.892")
    assert "offcuts from the rack" in result.headline
    assert result.cautions


@pytest.mark.parametrize(
    ("key", "unit", "units"),
    [
        ("sheet", Unit.METRE, "each or m²"),
        ("batten", Unit.SQUARE_METRE, "each or m"),
        ("board", Unit.LITRE, "each or m or m²"),
        ("paint", Unit.METRE, "each or litre"),
    ],
)
def test_a_unit_that_it_is_not_bought_by_is_refused(key, unit, units):
    with pytest.raises(MeasureAgain, match=f"is not bought by the {unit}: put it in by {units}"):
        counted.take_by_hand(Manual("guess", (ManualLine(key, Decimal(2), unit),)), CATALOGUE)


@pytest.mark.parametrize(
    ("key", "mass"),
    [
        ("batten", "4.990"),  # 4 × 3.6 m × 0.038 × 0.019 × 480
        ("sheet", "72.872"),  # 4 × 2.44 × 1.22 × 0.009 × 680
        ("board", None),  # comes in two lengths
        ("hinge", "0.4"),
        ("paint", None),  # four tins, of which size is not said
    ],
)
def test_what_is_counted_weighs_what_is_known_of_one(key, mass):
    result = counted.take_by_hand(Manual("spare", (ManualLine(key, Decimal(4)),)), CATALOGUE)
    assert result.mass_kg == (None if mass is None else Decimal(mass))


def test_tins_are_counted_and_not_reckoned_in_litres():
    """Two of what is sold by the tin of five litres are two tins, not two litres out of one."""
    result = counted.take_by_hand(Manual("spare", (ManualLine("paint", Decimal(2)),)), CATALOGUE)
    assert [(each.amount, each.unit, each.packs) for each in result.quantities] == [(2, Unit.EACH, 0)]


@pytest.mark.parametrize("reason", ["", "   "])
def test_by_hand_without_a_reason_is_refused(reason):
    with pytest.raises(MeasureAgain, match="Say why"):
        counted.take_by_hand(Manual(reason), CATALOGUE)
