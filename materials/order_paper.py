"""How does an order look on paper?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.template.loader import render_to_string
from django.utils import timezone

from jobs.money import ZERO, round_money
from jobs.paper_pdf import draw_pdf, logo_address
from jobs.workshop import current_workshop
from materials.models import Order, OrderLine


@dataclass(frozen=True)
class PaperLine:
    """A line as the supplier reads it."""

    line: OrderLine
    amount: Decimal


@dataclass(frozen=True)
class OrderPaper:
    """What stands on an order."""

    order: Order
    lines: tuple[PaperLine, ...]
    total: Decimal


def order_paper(order: Order) -> OrderPaper:
    """The order with its sums: each line rounded, the total of what is printed."""
    currency = current_workshop().currency
    lines = tuple(
        PaperLine(line, round_money(line.price * line.quantity, currency)) for line in order.lines.all()
    )
    return OrderPaper(order, lines, sum((line.amount for line in lines), ZERO))


def order_pdf(order: Order) -> bytes:
    """The paper as a PDF. Slow: keep it out of transactions."""
    workshop = current_workshop()
    context = {
        "paper": order_paper(order),
        "letter": workshop,
        "logo": logo_address(),
        "dated": timezone.localdate(),
    }
    return draw_pdf(render_to_string("papers/order.html", context))
