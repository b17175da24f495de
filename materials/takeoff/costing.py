"""About what does the material of a take-off cost, before offcuts? The cutting plan says it exactly."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from materials.takeoff.figures import M2_PER_MM10_SQUARED, metres, rounded
from materials.takeoff.result import Piece, Quantity, Result, Unit
from materials.takeoff.specs import Catalogue, MaterialSpec, StockSize


@dataclass(frozen=True)
class Cost:
    """The cost of what has a price, and the names of what has none."""

    amount: Decimal
    unpriced: tuple[str, ...] = ()


def material_cost(result: Result, catalogue: Catalogue) -> Cost:
    """Pieces by the metre or square metre of the cheapest stock that holds them, packs by the pack."""
    found = [_piece_cost(piece, catalogue) for piece in result.pieces]
    found += [_quantity_cost(quantity, catalogue) for quantity in result.quantities]
    total = sum((cost for _, cost in found if cost is not None), Decimal(0))
    return Cost(rounded(total, 2), tuple(sorted({name for name, cost in found if cost is None})))


def _piece_cost(piece: Piece, catalogue: Catalogue) -> tuple[str, Decimal | None]:
    spec = catalogue.spec(piece.material_key)
    if spec.kind == "sheet":
        area = M2_PER_MM10_SQUARED * piece.length_mm10 * piece.width_mm10 * piece.quantity
        return spec.name, _times(area, _square_metre(spec.stock))
    holding = [size for size in spec.stock if size.length_mm10 >= piece.length_mm10] or spec.stock
    return spec.name, _times(metres(piece.length_mm10) * piece.quantity, _metre(holding))


def _quantity_cost(quantity: Quantity, catalogue: Catalogue) -> tuple[str, Decimal | None]:
    spec = catalogue.spec(quantity.material_key)
    if quantity.unit is Unit.METRE:
        return spec.name, _times(quantity.amount, _metre(spec.stock))
    if quantity.unit is Unit.SQUARE_METRE:
        return spec.name, _times(quantity.amount, _square_metre(spec.stock))
    return spec.name, _times(Decimal(quantity.packs), _pack(spec, quantity.pack_size))


def _times(amount: Decimal, price: Decimal | None) -> Decimal | None:
    return None if price is None else amount * price


def _metre(stock: Iterable[StockSize]) -> Decimal | None:
    prices = [
        size.price / metres(size.length_mm10) for size in stock if size.price is not None and size.length_mm10
    ]
    return min(prices, default=None)


def _square_metre(stock: Iterable[StockSize]) -> Decimal | None:
    prices = [
        size.price / (metres(size.length_mm10) * metres(size.width_mm10))
        for size in stock
        if size.price is not None and size.length_mm10 and size.width_mm10
    ]
    return min(prices, default=None)


def _pack(spec: MaterialSpec, pack_size: Decimal) -> Decimal | None:
    return next((pack.price for pack in spec.packs if pack.quantity == pack_size), None)
