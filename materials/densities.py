"""How heavy is a material usually, and who says so? For a maker who has not weighed it.

The densities of solid timber are means at 12 % moisture. Those by eq. 4-12 are 1000 × G × (1 + M/100), with G
the specific gravity at 12 %. Values marked "from memory" were not checked against a copy of the source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.money import round_half_up

MEAN_MOISTURE = Decimal(12)
STANDARD_GRAVITY = Decimal("9.80665")
_HANDBOOK = "Wood Handbook FPL-GTR-190, eq. 4-12"
_EN_350 = "EN 350:2016 Annex B, from memory"
_EN_338 = "EN 338:2016, from memory"
_EN_1991 = "EN 1991-1-1:2002 Table A.3, from memory"


@dataclass(frozen=True)
class Density:
    """A usual density with its source."""

    name: str
    kg_m3: Decimal
    source: str
    moisture_percent: Decimal | None = None

    @property
    def words(self) -> str:
        at = f" at {self.moisture_percent} %" if self.moisture_percent is not None else ""
        return f"{self.name}, {self.kg_m3} kg/m³{at} ({self.source})"


def at_moisture(specific_gravity: Decimal, moisture_percent: Decimal) -> Decimal:
    """Density in kg/m³ from specific gravity at that moisture content (Wood Handbook eq. 4-12), not rounded.

    >>> at_moisture(Decimal("0.40"), Decimal(12))
    Decimal('448.0000')
    """
    return 1000 * specific_gravity * (1 + moisture_percent / 100)


def from_weight_density(kn_m3: Decimal) -> Decimal:
    """Density in kg/m³ from a weight density in kN/m³, at standard gravity, to the kilogram.

    >>> from_weight_density(Decimal("7.0"))
    Decimal('714')
    """
    return round_half_up(1000 * kn_m3 / STANDARD_GRAVITY, 0)


def _handbook(name: str, specific_gravity: str) -> Density:
    density = round_half_up(at_moisture(Decimal(specific_gravity), MEAN_MOISTURE), 0)
    return _timber(name, density, f"{_HANDBOOK}, G {specific_gravity}")


def _timber(name: str, kg_m3: Decimal, source: str) -> Density:
    return Density(name, kg_m3, source, MEAN_MOISTURE)


TIMBERS = (
    _timber("European oak", Decimal(710), _EN_350),
    _timber("Beech", Decimal(710), _EN_350),
    _timber("Ash", Decimal(700), _EN_350),
    _timber("European larch", Decimal(600), _EN_350),
    _timber("Scots pine (redwood)", Decimal(520), _EN_350),
    _timber("Norway spruce (whitewood)", Decimal(460), _EN_350),
    _timber("Sapele", Decimal(650), _EN_350),
    _timber("Iroko", Decimal(650), _EN_350),
    _timber("Western redcedar", Decimal(370), _EN_350),
    _handbook("Douglas fir (coast)", "0.48"),
    _handbook("White ash", "0.60"),
    _handbook("Western larch", "0.52"),
    _handbook("Western hemlock", "0.45"),
    _handbook("Engelmann spruce", "0.35"),
    _timber("Softwood graded C16", Decimal(370), _EN_338),
    _timber("Softwood graded C24", Decimal(420), _EN_338),
)
PANELS = (
    Density("Softwood plywood", from_weight_density(Decimal("5.0")), _EN_1991),
    Density("Birch plywood", from_weight_density(Decimal("7.0")), _EN_1991),
    Density("Blockboard", from_weight_density(Decimal("4.5")), _EN_1991),
    Density("OSB", from_weight_density(Decimal("7.0")), _EN_1991),
    Density("MDF", from_weight_density(Decimal("8.0")), _EN_1991),
    Density("Chipboard", from_weight_density(Decimal("7.5")), f"{_EN_1991}, 7 to 8 kN/m³"),
    Density("Hardboard", from_weight_density(Decimal("10")), _EN_1991),
)


def usual_densities(kind: str) -> tuple[Density, ...]:
    """The densities worth offering for a kind of material; none for what is weighed by the piece."""
    return {"board": TIMBERS, "length": TIMBERS + PANELS, "sheet": PANELS + TIMBERS}.get(kind, ())
