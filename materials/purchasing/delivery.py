"""Which phase bears how much of a delivery, and how much of what was committed does it let go?

An order line is committed to phases in shares that add up to it. Each delivery lets go of a part of every
share, in proportion to what is left of them; the last lets go of all that is left. So no share is ever let go
of twice or left over by a penny, in however many parts the goods come. What the delivery really costs is
borne in the same proportion. Where a delivery is taken back, what the others let go of is worked out anew.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.money import ZERO, round_money, split_money


@dataclass(frozen=True)
class LineSoFar:
    """An order line before it: packs ordered and received, the price of one, and by phase what is left."""

    quantity: Decimal
    received: Decimal
    price: Decimal
    left: Mapping[int, Decimal]
    weights: Mapping[int, Decimal]


@dataclass(frozen=True)
class Delivered:
    """What a delivery of one line lets go of and costs, by phase."""

    let_go: Mapping[int, Decimal]
    cost: Mapping[int, Decimal]


def commit(*, total: Decimal, weights: Mapping[int, Decimal], currency: str) -> dict[int, Decimal]:
    """The shares of an order line, to the penny; they add up to the rounded total.

    >>> commit(total=Decimal("10.00"), weights={1: Decimal(1), 2: Decimal(2)}, currency="GBP")
    {1: Decimal('3.33'), 2: Decimal('6.67')}
    """
    return dict(zip(weights, split_money(total, list(weights.values()), currency), strict=True))


def deliver(line: LineSoFar, *, quantity: Decimal, price: Decimal, currency: str) -> Delivered:
    """So many packs came, at that price each.

    Raises ValueError for nothing, or for more than is still to come.
    """
    to_come = line.quantity - line.received
    if not 0 < quantity <= to_come:
        raise ValueError(f"{quantity} of {to_come} cannot be delivered")
    left = sum(line.left.values(), ZERO)
    let_go = left if quantity == to_come else min(left, round_money(line.price * quantity, currency))
    weights = line.left if left else line.weights
    return Delivered(
        let_go=commit(total=let_go, weights=weights, currency=currency),
        cost=commit(total=round_money(price * quantity, currency), weights=weights, currency=currency),
    )


def let_go_of(
    *, ordered: Decimal, price: Decimal, shares: Mapping[int, Decimal], came: Sequence[Decimal], currency: str
) -> dict[int, Decimal]:
    """What an order line lets go of in all, by phase, when so many packs came, one delivery after another."""
    left, received = dict(shares), ZERO
    for packs in came:
        line = LineSoFar(ordered, received, price, left, shares)
        let_go = deliver(line, quantity=packs, price=price, currency=currency).let_go
        left = {phase: amount - let_go[phase] for phase, amount in left.items()}
        received += packs
    return {phase: amount - left[phase] for phase, amount in shares.items()}
