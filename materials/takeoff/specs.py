"""What does a take-off need to know of a material, and how are lengths shown?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.lengths import System, format_length
from materials.takeoff.errors import MeasureAgain


@dataclass(frozen=True)
class StockSize:
    """One size on the merchant's rack: a length, and a width if it is a sheet; price for one, if known."""

    length_mm10: int
    width_mm10: int = 0
    price: Decimal | None = None


@dataclass(frozen=True)
class PackSize:
    """How many, or how many litres, one pack or tin holds; its price, if known."""

    quantity: Decimal
    price: Decimal | None = None


@dataclass(frozen=True)
class MaterialSpec:
    """A catalogue line as calculation sees it.

    `mass_per_unit_kg` is by the metre for boards and lengths, by the square metre for sheets, by the litre
    for liquids, each for pieces and fixings; where it is None the mass comes from density and size.
    """

    key: str
    name: str
    kind: str
    width_mm10: int = 0
    thickness_mm10: int = 0
    cover_width_mm10: int = 0
    density_kg_m3: Decimal | None = None
    mass_per_unit_kg: Decimal | None = None
    moisture_pct: Decimal | None = None
    coverage_m2_per_litre: Decimal | None = None
    packs: tuple[PackSize, ...] = ()
    has_grain: bool = False
    stock: tuple[StockSize, ...] = ()

    @property
    def cover_mm10(self) -> int:
        """What one board covers: its cover width, or its whole width where it has no tongue."""
        return self.cover_width_mm10 or self.width_mm10

    @property
    def longest_mm10(self) -> int:
        """The longest stock length, or 0 where none is known."""
        return max((size.length_mm10 for size in self.stock), default=0)


@dataclass(frozen=True)
class Catalogue:
    """The materials at hand by key, and the workshop's system of measure.

    `trim_mm10` is what the workshop's saw takes off each edge of a sheet before it is cut.
    """

    materials: Mapping[str, MaterialSpec] = field(default_factory=dict)
    system: System = System.METRIC
    trim_mm10: int = 0

    def spec(self, key: str, field_name: str = "material_key") -> MaterialSpec:
        """The material of that key; raises `MeasureAgain` where the catalogue no longer has it."""
        if key not in self.materials:
            raise MeasureAgain("Choose a material from the catalogue.", field_name)
        return self.materials[key]

    def show(self, length_mm10: int) -> str:
        """A length with its unit, as it stands in a sentence."""
        return format_length(length_mm10, self.system)

    def figure(self, length_mm10: int) -> str:
        """A length as it stands in a sum: no mm after each term."""
        return format_length(length_mm10, self.system, unit=False)
