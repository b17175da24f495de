"""Usual densities against the published figures they come from."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.densities import PANELS, TIMBERS, at_moisture, from_weight_density, usual_densities


@pytest.mark.parametrize(
    ("gravity", "moisture", "density"),
    [
        ("0.40", 12, "448"),  # Wood Handbook FPL-GTR-190 ch. 4 eq. 4-12, Table 4-6
        ("0.605", 12, "677.6"),  # the same chapter's worked example, white ash, printed as 678
        ("0.48", 12, "537.6"),  # eq. 4-12 on the handbook's G of coast Douglas fir
    ],
)
def test_density_by_the_wood_handbook(gravity: str, moisture: int, density: str) -> None:
    assert at_moisture(Decimal(gravity), Decimal(moisture)) == Decimal(density)


def test_a_weight_density_becomes_a_density_at_standard_gravity() -> None:
    # EN 1991-1-1:2002 Table A.3 has birch plywood at 7.0 kN/m³ (from memory); 7000 / 9.80665 = 713.8
    assert from_weight_density(Decimal("7.0")) == 714


@pytest.mark.parametrize(
    ("name", "density"),
    [("European oak", 710), ("Norway spruce (whitewood)", 460), ("Douglas fir (coast)", 538), ("MDF", 816)],
)
def test_the_offered_values(name: str, density: int) -> None:
    (offered,) = [one for one in TIMBERS + PANELS if one.name == name]
    assert offered.kg_m3 == density


def test_every_offered_density_names_its_source() -> None:
    assert all(len(one.source) > 10 for one in TIMBERS + PANELS)
    assert usual_densities("fixing") == ()
