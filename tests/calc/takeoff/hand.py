"""Materials and outlines at hand for the take-off tests, dull on purpose."""

from decimal import Decimal

from materials.takeoff.outline import Opening, Outline
from materials.takeoff.shapes import Point, Polygon, Rectangle
from materials.takeoff.specs import Catalogue, MaterialSpec, PackSize, StockSize

BOARD = MaterialSpec(
    key="board",
    name="T&G board",
    kind="board",
    width_mm10=1190,
    thickness_mm10=120,
    cover_width_mm10=1120,
    density_kg_m3=Decimal(550),
    stock=(StockSize(24_000), StockSize(30_000)),
)
SHEET = MaterialSpec(
    key="sheet",
    name="Birch plywood",
    kind="sheet",
    thickness_mm10=90,
    density_kg_m3=Decimal(680),
    has_grain=True,
    stock=(StockSize(24_400, 12_200),),
)
BATTEN = MaterialSpec(
    key="batten",
    name="Batten",
    kind="length",
    width_mm10=380,
    thickness_mm10=190,
    density_kg_m3=Decimal(480),
    stock=(StockSize(36_000),),
)
SCREW = MaterialSpec(key="screw", name="Screws", kind="fixing", packs=(PackSize(Decimal(200)),))
PAINT = MaterialSpec(
    key="paint",
    name="Paint",
    kind="liquid",
    coverage_m2_per_litre=Decimal(12),
    mass_per_unit_kg=Decimal("1.3"),
    packs=(PackSize(Decimal(5)),),
)
HINGE = MaterialSpec(key="hinge", name="Hinge", kind="piece", mass_per_unit_kg=Decimal("0.1"))
CATALOGUE = Catalogue({spec.key: spec for spec in (BOARD, SHEET, BATTEN, SCREW, PAINT, HINGE)})


def wall(width_mm10=24_000, height_mm10=18_000, *openings, other_hand=False):
    """A rectangle with openings."""
    return Outline(Rectangle(width_mm10, height_mm10), openings, other_hand)


def window(left=8_000, bottom=6_000, width=6_000, height=5_000, clearance=0, name="Window", **more):
    """An opening with dull sizes."""
    return Opening(name, left, bottom, width, height, clearance, **more)


def polygon(*spots):
    """An outline from corner to corner."""
    return Outline(Polygon(tuple(Point(across, up) for across, up in spots)))
