"""About what material costs: by the metre, the square metre, the pack."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.takeoff.costing import Cost, material_cost
from materials.takeoff.result import Piece, Quantity, Result, Unit
from materials.takeoff.specs import Catalogue, PackSize, StockSize
from tests.calc.takeoff.hand import BOARD, PAINT, SHEET


def priced(board="12", long_board="18", sheet="62", tin="40"):
    lengths = (StockSize(24_000, 0, Decimal(board)), StockSize(30_000, 0, Decimal(long_board)))
    found = (
        replace(BOARD, stock=lengths),
        replace(SHEET, stock=(StockSize(25_000, 10_000, Decimal(sheet)),)),
        replace(PAINT, packs=(PackSize(Decimal(5), Decimal(tin)),)),
    )
    return Catalogue({spec.key: spec for spec in found})


def cost(*pieces, bought=()):
    return material_cost(Result("test 1", "", pieces=pieces, quantities=bought), priced())


@pytest.mark.parametrize(
    ("pieces", "bought", "expected"),
    [
        ((Piece("board", 20_000, quantity=3),), (), "30.00"),
        ((Piece("board", 25_000),), (), "15.00"),
        ((Piece("sheet", 10_000, 5_000, 2),), (), "24.80"),
        ((), (Quantity("paint", Decimal("7.5"), Unit.LITRE, 2, Decimal(5)),), "80.00"),
        ((), (Quantity("board", Decimal(4), Unit.METRE),), "20.00"),
        ((), (Quantity("sheet", Decimal(2), Unit.SQUARE_METRE),), "49.60"),
        ((), (), "0.00"),
    ],
    ids=[
        "by the metre",
        "a long piece from long stock",
        "sheet",
        "tins",
        "metres",
        "square metres",
        "nothing",
    ],
)
def test_costs(pieces, bought, expected):
    assert cost(*pieces, bought=bought) == Cost(Decimal(expected))


def test_what_has_no_price_is_named():
    result = Result("test 1", "", pieces=(Piece("board", 10_000),))
    assert material_cost(result, Catalogue({"board": BOARD})) == Cost(Decimal("0.00"), ("T&G board",))


@given(st.lists(st.integers(100, 24_000), max_size=10))
def test_more_pieces_never_cost_less(lengths):
    pieces = [Piece("board", length) for length in lengths]
    assert cost(*pieces).amount >= cost(*pieces[1:]).amount
