"""Bends and seasonal movement at the edges of their tables. Published figures stand in tests/published."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.bending import Curve, check_bend, kerf_cuts
from materials.takeoff.errors import MeasureAgain
from materials.takeoff.movement import SPECIES, Sawn, gap_to_leave, seasonal_change

OAK = SPECIES["White oak"]


@pytest.mark.parametrize(
    ("thickness", "radius", "curve", "allowed", "words"),
    [
        (127, 25_500, Curve.ACROSS, True, "allows it"),
        (127, 25_500, Curve.ALONG, False, "Too thick"),
        (60, 25_500, Curve.ACROSS, False, "not in the table"),
        (250, 90_000, Curve.ACROSS, False, "not in the table"),
        (64, 5_000, Curve.ACROSS, False, "no sheet for so tight a bend"),
        (120, 18_288, Curve.ACROSS, True, "allows it"),
        (120, 18_287, Curve.ACROSS, False, "Too thick"),
    ],
)
def test_bends(thickness, radius, curve, allowed, words):
    bend = check_bend(thickness, radius, curve)
    assert bend.allowed is allowed
    assert words in bend.words


def test_a_thinner_layer_is_offered():
    assert check_bend(180, 10_000, Curve.ACROSS).thickest_mm10 == 95


@pytest.mark.parametrize(("thickness", "radius"), [(0, 100), (100, 0), (-1, 100)])
def test_a_bend_of_nothing_is_refused(thickness, radius):
    with pytest.raises(MeasureAgain):
        check_bend(thickness, radius, Curve.ACROSS)


def kerfs(**more):
    asked = {
        "thickness_mm10": 180,
        "radius_mm10": 3_000,
        "degrees": Decimal(90),
        "kerf_mm10": 30,
        "skin_mm10": 30,
    }
    return kerf_cuts(**{**asked, **more})


def test_kerfs_close_over_a_quarter_turn():
    found = kerfs()
    assert (found.count, found.spacing_mm10, found.depth_mm10) == (8, 583, 150)


@given(st.integers(100, 400), st.integers(1_000, 30_000), st.integers(10, 360), st.integers(10, 60))
def test_kerfs_together_take_up_the_shorter_inside(thickness, radius, degrees, kerf):
    found = kerfs(thickness_mm10=thickness, radius_mm10=radius, degrees=Decimal(degrees), kerf_mm10=kerf)
    shorter = found.depth_mm10 * degrees * 3.141592653589793 / 180
    assert (found.count - 1) * kerf <= shorter + 1e-6
    assert found.count * kerf >= shorter - 1e-6


@pytest.mark.parametrize(
    "more",
    [{"skin_mm10": 0}, {"skin_mm10": 180}, {"kerf_mm10": 0}, {"degrees": Decimal(0)}, {"radius_mm10": 180}],
)
def test_kerfs_that_cannot_be_cut_are_refused(more):
    with pytest.raises(MeasureAgain):
        kerfs(**more)


def change(from_pct, to_pct, **more):
    asked = {"width_mm10": 1_500, "boards": 1, **more}
    return seasonal_change(OAK, Sawn.FLAT, from_pct=Decimal(from_pct), to_pct=Decimal(to_pct), **asked)


def test_a_wall_moves_by_all_its_boards():
    assert change(8, 12, boards=10).all_mm == Decimal("21.90")


@pytest.mark.parametrize(("to_pct", "gap"), [(12, "2.5"), (8, "0"), (6, "0"), (9, "1.0")])
def test_the_gap_to_leave_is_for_swelling(to_pct, gap):
    assert gap_to_leave(change(8, to_pct)) == Decimal(gap)


@pytest.mark.parametrize(("ends", "warned"), [((6, 14), False), ((5, 12), True), ((8, 15), True)])
def test_outside_6_to_14_pct_is_warned_of(ends, warned):
    assert bool(change(*ends).caution) is warned


@pytest.mark.parametrize("ends", [(8, 31), (-1, 8)])
def test_beyond_saturation_is_refused(ends):
    with pytest.raises(MeasureAgain, match="0 to 30"):
        change(*ends)


@given(st.integers(6, 14), st.integers(6, 14), st.sampled_from(list(SPECIES.values())), st.sampled_from(Sawn))
def test_there_and_back_is_no_change(one, other, species, sawn):
    there, back = (
        seasonal_change(species, sawn, width_mm10=1_000, boards=3, from_pct=Decimal(a), to_pct=Decimal(b))
        for a, b in ((one, other), (other, one))
    )
    assert there.all_mm + back.all_mm == 0
