"""Mass by size and by moments; hours by quantity and grade."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.labour import STARTING_RATES, Grade, Rates, hours_for
from materials.takeoff.mass import Carried, Load, added, board_mass, share_load, sheet_mass
from materials.takeoff.result import Operation, Unit, Work
from materials.takeoff.specs import MaterialSpec
from tests.calc.takeoff.hand import BOARD, SHEET


def test_a_board_weighs_its_cover_by_its_thickness():
    assert board_mass(Decimal(100), BOARD) == Decimal("73.920")


def test_the_catalogue_mass_goes_before_density():
    spec = MaterialSpec("m", "Board", "board", 1190, 120, 1120, Decimal(550), Decimal("0.9"))
    assert board_mass(Decimal(10), spec) == Decimal("9.000")


@pytest.mark.parametrize("spec", [MaterialSpec("m", "Board", "board"), MaterialSpec("m", "Ply", "sheet")])
def test_without_density_there_is_no_mass(spec):
    assert board_mass(Decimal(1), spec) is None
    assert sheet_mass(Decimal(1), spec) is None


def test_what_is_not_known_is_not_nothing():
    assert added([None, None]) is None
    assert added([None, Decimal(2)]) == Decimal(2)


def test_a_support_carries_what_it_did_empty_as_well():
    carried = Carried(Decimal("120.5"), Decimal(400), Decimal(500))
    assert (carried.laden_kg, carried.left_kg) == (Decimal("520.5"), Decimal("-20.5"))
    assert Carried(Decimal(5), None, Decimal(500)).left_kg is None
    assert Carried(Decimal(5), Decimal(0), None).left_kg is None
    assert Carried(Decimal(5), Decimal(0), Decimal(0)).left_kg == -5


def test_supports_must_be_apart():
    with pytest.raises(MeasureAgain, match="ahead of the rear"):
        share_load([], 0)


loads = st.lists(
    st.builds(Load, st.just("x"), st.decimals(0, 2_000, places=1), st.integers(-30_000, 60_000)), max_size=8
)


@given(loads, st.integers(1_000, 60_000))
def test_supports_carry_the_whole_load_between_them(taken, span):
    shared = share_load(taken, span)
    assert shared.front_kg + shared.rear_kg == sum(load.mass_kg for load in taken)


@given(st.decimals(0, 500, places=2), st.integers(1, 9))
def test_sheet_mass_is_linear_in_area(area_m2, times):
    once, more = sheet_mass(area_m2, SHEET), sheet_mass(area_m2 * times, SHEET)
    assert more == pytest.approx(once * times, abs=Decimal("0.001") * times)


def test_hours_say_rate_and_grade():
    (line,) = hours_for([Work(Operation.CLAD, Decimal(10), Unit.SQUARE_METRE)], Grade.CONCEALED)
    assert line.figures == "10 m² × 0.8 h × 0.7 (concealed) = 5.6 h"


def test_work_without_a_rate_takes_no_hours():
    rates = Rates({}, STARTING_RATES.factors)
    assert hours_for([Work(Operation.CLAD, Decimal(1), Unit.SQUARE_METRE)], Grade.SEEN, rates) == ()


def test_every_operation_and_grade_has_a_starting_rate():
    assert set(STARTING_RATES.hours) == set(Operation)
    assert set(STARTING_RATES.factors) == set(Grade)


@given(st.sampled_from(Operation), st.decimals(0, 1_000, places=2))
def test_what_is_not_seen_never_takes_longer(operation, amount):
    work = [Work(operation, amount, Unit.EACH)]
    seen, painted, concealed = (hours_for(work, grade)[0].hours for grade in Grade)
    assert seen >= painted >= concealed


def test_what_is_counted_one_by_one_has_no_unit_in_the_sum():
    (line,) = hours_for([Work(Operation.FIX, Decimal(880), Unit.EACH)], Grade.SEEN)
    assert line.figures.startswith("880 × ")
