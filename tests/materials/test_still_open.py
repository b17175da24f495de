"""Which orders of a job are not here when it is closed."""

from __future__ import annotations

import pytest

from materials.queries.still_open import not_here
from tests import make

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("state", "words"),
    [("draft", "is a draft"), ("placed", "is still to come"), ("part", "is not all here")],
)
def test_an_order_not_here_is_open(state: str, words: str) -> None:
    order = make.order(state=state)
    assert [one.words for one in not_here(order.job)] == [f"{order} of {order.supplier} {words}."]


@pytest.mark.parametrize("state", ["received", "cancelled"])
def test_an_order_seen_to_is_not(state: str) -> None:
    assert list(not_here(make.order(state=state).job)) == []
