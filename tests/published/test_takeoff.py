"""Take-off against figures printed elsewhere; the source stands beside each block.

Rows marked "from memory" or "common practice" say so; the rest was checked against a copy of the source.
"""

from decimal import Decimal
from fractions import Fraction

import pytest

from jobs.lengths import parse_length
from materials.takeoff.bending import Curve, check_bend
from materials.takeoff.cladding import Cladding, lay_out
from materials.takeoff.courses import Start, lay_courses
from materials.takeoff.finishes import Finish, Surface
from materials.takeoff.finishes import take_off as take_off_finish
from materials.takeoff.framing import edge_count
from materials.takeoff.mass import Load, density_at, share_load, sheet_mass_per_m2
from materials.takeoff.movement import SPECIES, Sawn, seasonal_change
from materials.takeoff.shapes import arc_of, simpson, trapezoidal
from tests.calc.takeoff.hand import BOARD, CATALOGUE, wall

# Wood Handbook, FPL-GTR-190 (2010), ch. 4 eq. 4-12 and Table 4-6; white ash: the worked example by Fig. 4-6.


@pytest.mark.parametrize(("gravity", "moisture", "expected"), [("0.40", 12, "448"), ("0.605", 12, "677.6")])
def test_density_from_specific_gravity(gravity, moisture, expected):
    assert density_at(Decimal(gravity), Decimal(moisture)) == Decimal(expected)


# Mass = thickness × density: arithmetic.


@pytest.mark.parametrize(("thickness_mm10", "density", "expected"), [(120, 550, "6.6"), (75, 550, "4.125")])
def test_mass_of_a_square_metre(thickness_mm10, density, expected):
    assert sheet_mass_per_m2(thickness_mm10, Decimal(density)) == Decimal(expected)


def test_thin_board_saves_the_same_share_whatever_the_density():
    thick, thin = (sheet_mass_per_m2(t, Decimal(612)) for t in (120, 75))
    assert (thick - thin) / thick == Decimal("0.375")


@pytest.mark.parametrize(("density", "expected"), [(650, "34.83"), (750, "40.19")])
def test_mass_of_a_sheet(density, expected):
    area_m2 = Decimal("2.440") * Decimal("1.220")
    mass = sheet_mass_per_m2(180, Decimal(density)) * area_m2
    assert mass == pytest.approx(Decimal(expected), abs=Decimal("0.01"))


# Wood Handbook, FPL-GTR-190 (2010), ch. 13 eq. 13-2 and Table 13-5.


def test_white_fir_worked_example():
    """Under eq. 13-2: 232 mm flat-sawn white fir from 8 to 11 % (the start and C_T from memory)."""
    change = seasonal_change(
        SPECIES["White fir"],
        Sawn.FLAT,
        width_mm10=2_320,
        boards=1,
        from_pct=Decimal(8),
        to_pct=Decimal(11),
    )
    assert change.all_mm == pytest.approx(Decimal("1.7"), abs=Decimal("0.05"))


@pytest.mark.parametrize(
    ("species", "radial", "tangential"),
    [
        ("White ash", "0.00169", "0.00274"),
        ("American beech", "0.00190", "0.00431"),
        ("Yellow birch", "0.00256", "0.00338"),
        ("Black cherry", "0.00126", "0.00248"),
        ("Sugar maple", "0.00165", "0.00353"),
        ("Red oak", "0.00158", "0.00369"),
        ("White oak", "0.00180", "0.00365"),
        ("Black walnut", "0.00190", "0.00274"),
        ("White fir", "0.00112", "0.00245"),
    ],
)
def test_coefficients_of_table_13_5(species, radial, tangential):
    assert SPECIES[species].coefficient(Sawn.QUARTER) == Decimal(radial)
    assert SPECIES[species].coefficient(Sawn.FLAT) == Decimal(tangential)


@pytest.mark.parametrize(
    ("species", "sawn", "width_mm10", "ends", "expected"),
    [
        ("White oak", Sawn.FLAT, 1_500, (8, 12), "2.19"),
        ("White oak", Sawn.QUARTER, 1_500, (8, 12), "1.08"),
        ("Red oak", Sawn.FLAT, 1_120, (12, 8), "-1.65"),
    ],
)
def test_seasonal_change(species, sawn, width_mm10, ends, expected):
    from_pct, to_pct = map(Decimal, ends)
    change = seasonal_change(
        SPECIES[species], sawn, width_mm10=width_mm10, boards=1, from_pct=from_pct, to_pct=to_pct
    )
    assert change.all_mm == Decimal(expected)


# APA, minimum bending radii for Plyform panels (Douglas-fir, dry), in feet.


@pytest.mark.parametrize(
    ("inches", "across_ft", "along_ft"),
    [("1/4", 2, 5), ("5/16", 2, 6), ("3/8", 3, 8), ("1/2", 6, 12), ("5/8", 8, 16), ("3/4", 12, 20)],
)
def test_minimum_bend_radius(inches, across_ft, along_ft):
    thickness = parse_length(f"{inches} in")
    for curve, feet in ((Curve.ACROSS, across_ft), (Curve.ALONG, along_ft)):
        least = parse_length(f"{feet} ft")
        assert check_bend(thickness, least, curve).allowed
        assert not check_bend(thickness, least - 1, curve).allowed


def test_below_a_quarter_inch_is_not_in_the_table():
    assert check_bend(parse_length("3/16 in"), 90_000, Curve.ACROSS).least_radius_mm10 is None


def test_an_arc_of_2400_rising_300_takes_half_inch_across_but_not_along():
    radius = round(arc_of(24_000, 3_000).radius)
    assert check_bend(127, radius, Curve.ACROSS).allowed
    assert not check_bend(127, radius, Curve.ALONG).allowed


# Inch, foot, board foot: NIST SP 811 (2008) App. B. Dressed sizes: American Softwood Lumber Standard PS 20-20
# (millimetres from memory).


def test_inch_and_foot():
    assert (parse_length("1 in"), parse_length("1 ft")) == (254, 3048)


def test_board_foot():
    foot, inch = Fraction(3048, 10_000), Fraction(254, 10_000)
    assert foot * foot * inch == Fraction("0.002359737216")


@pytest.mark.parametrize(
    ("inches", "expected_mm"),
    [
        ("3/4", 19),
        ("1 1/2", 38),
        ("3 1/2", 89),
        ("5 1/2", 140),
        ("7 1/4", 184),
        ("9 1/4", 235),
        ("11 1/4", 286),
    ],
)
def test_dressed_sizes_to_the_millimetre(inches, expected_mm):
    assert round(parse_length(f"{inches} in") / 10) == expected_mm


# Boarding, paint and fixings: common practice and arithmetic.


def test_cover_width_is_the_width_less_the_tongue():
    step = next(step for step in lay_steps() if step.words.endswith("covers"))
    assert step.figures == "119 − 7 = 112 mm"


def lay_steps():
    from materials.takeoff.cladding import take_off

    return take_off(Cladding(wall(), BOARD.key), CATALOGUE).steps


@pytest.mark.parametrize(("run_mm10", "courses", "last_mm10"), [(24_000, 22, 480), (22_400, 20, 1_120)])
def test_courses(run_mm10, courses, last_mm10):
    layout = lay_courses(run_mm10, 1_120, Start.FIRST_EDGE, 0)
    assert (layout.count, layout.last_mm10) == (courses, last_mm10)


def test_metres_of_board_in_a_square_metre():
    """1000 ÷ 112 = 8.929 m/m²: a wall of whole courses takes exactly its area at that rate."""
    laid = lay_out(Cladding(wall(10_000, 11_200), BOARD.key), CATALOGUE)
    metres = sum(board.length_mm10 for board in laid.boards.boards) / Decimal(10_000)
    assert metres / laid.measured.net_m2 == pytest.approx(Decimal("8.929"), abs=Decimal("0.001"))


def test_paint_for_45_square_metres():
    inputs = Finish("paint", (Surface("Walls", area_m2=Decimal(45)),), 2, Decimal(12))
    (tins,) = take_off_finish(inputs, CATALOGUE).quantities
    assert (tins.amount, tins.packs, tins.pack_size) == (Decimal("7.5"), 2, Decimal(5))


@pytest.mark.parametrize(("run_mm10", "expected"), [(24_000, 9), (24_500, 10)])
def test_fixings_along_an_edge_at_300_mm(run_mm10, expected):
    assert edge_count(run_mm10, 3_000) == expected


# Offset tables: surveying exercises (data and answers from copies; Punmia, Surveying vol. I, from memory).

KERB = (15, ["3.9", "4.5", "5.1", "6.5", "6.3", "5.1", "4.1"])
EXAMINATION = (30, ["0", "2.65", "3.80", "3.75", "4.65", "3.60", "5.00", "5.80"])
BOTH_SIDES = (25, ["65.5", "57.3", "104.2", "103.8", "42.9", "47.1", "59.7"])
PUNMIA = (10, ["3.25", "5.60", "4.20", "6.65", "8.75", "6.20", "3.25", "4.20", "5.65"])
QUADRATIC = (1, ["0", "3", "4", "3", "0"])


def by(rule, table):
    step, written = table
    widths = [Fraction(width) for width in written]
    return float(rule([Fraction(step) * n for n in range(len(widths))], widths))


@pytest.mark.parametrize(
    ("rule", "table", "expected", "within"),
    [
        (trapezoidal, KERB, 472.5, 0.05),
        (simpson, KERB, 476.0, 0.05),
        (trapezoidal, EXAMINATION, 790.5, 0.05),
        (simpson, EXAMINATION, 781.0, 0.05),
        (simpson, BOTH_SIDES, 10_435, 0.5),
        (trapezoidal, BOTH_SIDES, 10_447.5, 0.5),
        (trapezoidal, PUNMIA, 433.0, 0.05),
        (simpson, PUNMIA, 439.67, 0.05),
        (simpson, QUADRATIC, 32 / 3, 0.001),
        (trapezoidal, QUADRATIC, 10.0, 0.001),
    ],
)
def test_areas_from_offsets(rule, table, expected, within):
    assert by(rule, table) == pytest.approx(expected, abs=within)


def test_unequal_steps_by_trapezoids():
    along = [0, 5, 10, 15, 20, 30, 40, 60, 80]
    widths = [Fraction(w) for w in (["2.50", "3.80", "4.60", "5.20", "6.10", "4.70", "5.80", "3.90", "2.20"])]
    assert float(trapezoidal(along, widths)) == pytest.approx(354.0, abs=0.05)


# Chord and rise: plane geometry, R = c²/8s + s/2.


@pytest.mark.parametrize(
    ("chord", "rise", "radius", "length", "segment"),
    [(2.4, 0.3, 2.550, 2.4988, 0.48595), (6, 1, 5.000, 6.4350, 4.0875), (1.2, 0.1, 1.850, 1.2221, None)],
)
def test_arcs(chord, rise, radius, length, segment):
    arc = arc_of(chord, rise)
    assert (arc.radius, arc.length) == pytest.approx((radius, length), abs=0.0005)
    assert segment is None or arc.segment_area == pytest.approx(segment, abs=0.0005)


def test_a_half_circle():
    assert arc_of(2.0, 1.0).radius == pytest.approx(1.0)


# Axle loads: a simple beam on two supports, moments about each (any statics text).


@pytest.mark.parametrize(
    ("mass_kg", "ahead_mm10", "front_kg", "rear_kg"),
    [(800, 6_000, 160, 640), (200, -7_000, "-46.7", "246.7")],
)
def test_axle_loads(mass_kg, ahead_mm10, front_kg, rear_kg):
    shared = share_load([Load("load", Decimal(mass_kg), ahead_mm10)], 30_000)
    assert shared.front_kg == pytest.approx(Decimal(front_kg), abs=Decimal("0.1"))
    assert shared.rear_kg == pytest.approx(Decimal(rear_kg), abs=Decimal("0.1"))
    assert shared.front_kg + shared.rear_kg == mass_kg
