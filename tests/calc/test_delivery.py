"""Deliveries in parts: what was committed is let go once, to the penny."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.purchasing.delivery import LineSoFar, commit, deliver, let_go_of

WEIGHTS = st.dictionaries(st.integers(1, 9), st.decimals(0, 999, places=2), min_size=1, max_size=6)
TEN = LineSoFar(
    quantity=Decimal(10),
    received=Decimal(0),
    price=Decimal("3.33"),
    left={1: Decimal("11.10"), 2: Decimal("22.20")},
    weights={1: Decimal("11.10"), 2: Decimal("22.20")},
)


def test_a_third_of_the_goods_lets_go_of_a_third() -> None:
    found = deliver(TEN, quantity=Decimal(4), price=Decimal("3.33"), currency="GBP")
    assert found.let_go == {1: Decimal("4.44"), 2: Decimal("8.88")}
    assert found.cost == found.let_go


def test_another_price_changes_the_cost_and_not_what_is_let_go() -> None:
    found = deliver(TEN, quantity=Decimal(10), price=Decimal("3.60"), currency="GBP")
    assert sum(found.let_go.values()) == Decimal("33.30")
    assert found.cost == {1: Decimal("12.00"), 2: Decimal("24.00")}


@pytest.mark.parametrize("quantity", ["0", "-1", "10.5"])
def test_more_than_is_to_come_is_refused(quantity: str) -> None:
    with pytest.raises(ValueError, match="cannot be delivered"):
        deliver(TEN, quantity=Decimal(quantity), price=Decimal(1), currency="GBP")


@given(total=st.decimals(0, 9999, places=4), weights=WEIGHTS)
def test_shares_add_up_to_the_line(total: Decimal, weights: dict[int, Decimal]) -> None:
    shares = commit(total=total, weights=weights, currency="GBP")
    assert abs(sum(shares.values()) - total) <= Decimal("0.005")
    assert min(shares.values()) >= 0


@given(
    price=st.decimals(0, 99, places=4),
    weights=WEIGHTS,
    parts=st.lists(st.integers(1, 9), min_size=1, max_size=8),
)
def test_however_it_comes_all_is_let_go_of_exactly_once(
    price: Decimal, weights: dict[int, Decimal], parts: list[int]
) -> None:
    quantity = Decimal(sum(parts))
    shares = commit(total=price * quantity, weights=weights, currency="GBP")
    line = LineSoFar(quantity, Decimal(0), price, shares, shares)
    for part in parts:
        found = deliver(line, quantity=Decimal(part), price=price, currency="GBP")
        assert min(found.let_go.values()) >= 0
        left = {phase: amount - found.let_go[phase] for phase, amount in line.left.items()}
        assert min(left.values()) >= 0
        line = replace(line, received=line.received + part, left=left)
    assert set(line.left.values()) == {Decimal(0)}


def gone(came: list[str]) -> dict[int, Decimal]:
    """Of ten at 3.33, a third of them for the first phase."""
    packs = [Decimal(one) for one in came]
    shares = {1: Decimal("11.10"), 2: Decimal("22.20")}
    return let_go_of(ordered=Decimal(10), price=Decimal("3.33"), shares=shares, came=packs, currency="GBP")


def test_what_is_let_go_of_follows_from_what_came() -> None:
    assert gone([]) == {1: 0, 2: 0}
    assert gone(["4"]) == {1: Decimal("4.44"), 2: Decimal("8.88")}
    assert gone(["4", "6"]) == gone(["10"]) == {1: Decimal("11.10"), 2: Decimal("22.20")}


@given(
    price=st.decimals(0, 99, places=4),
    weights=WEIGHTS,
    parts=st.lists(st.integers(1, 9), min_size=1, max_size=6),
    over=st.integers(0, 5),
    taken_back=st.sets(st.integers(0, 5)),
)
def test_without_some_deliveries_no_more_is_let_go_of_than_is_borne(
    price: Decimal, weights: dict[int, Decimal], parts: list[int], over: int, taken_back: set[int]
) -> None:
    ordered = Decimal(sum(parts) + over)
    shares = commit(total=price * ordered, weights=weights, currency="GBP")
    stays = [Decimal(part) for at, part in enumerate(parts) if at not in taken_back]
    let_go = let_go_of(ordered=ordered, price=price, shares=shares, came=stays, currency="GBP")
    assert all(0 <= let_go[phase] <= shares[phase] for phase in shares)
    if sum(stays) == ordered:
        assert let_go == shares
    else:  # each delivery is rounded once, to the penny, and never beyond what is left
        short = abs(sum(let_go.values()) - price * sum(stays))
        assert short <= Decimal("0.005") * max(len(stays), 1) + Decimal("0.005")
