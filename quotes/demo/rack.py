"""What lies on the rack and what is on order in the demo."""

from __future__ import annotations

import uuid
from datetime import date
from decimal import Decimal

from jobs.models import Person
from materials.enums import StockSource
from materials.models import Material, Supplier
from materials.services.orders import draft_order, place
from materials.services.stock import NewStock, bring_in
from quotes.demo.clock import on
from quotes.demo.story import Story

FINISHES = "Fernhollow Finishes"


def lay_in(owner: Person) -> None:
    """Offcuts of sheet, and boards taken out of an old floor."""
    ply, boards = Material.objects.get(code="S-003"), Material.objects.get(code="B-001")
    offcut = NewStock(ply, Decimal(1), 12200, 6100, value=Decimal("6.50"), place="rack B")
    floor = NewStock(
        boards,
        Decimal(6),
        13500,
        place="loft",
        source=StockSource.RECLAIMED,
        source_ref="floor of the old chapel",
    )
    for new in (offcut, floor):
        bring_in(new=new, person=owner, key=uuid.uuid4())


def order_finishes(story: Story, day: date) -> None:
    """The oil for the walls, ordered and not yet come."""
    supplier = Supplier.objects.get(name=FINISHES)
    with on(day, 16):
        order = draft_order(job=story.job, supplier=supplier, person=story.owner)
        place(order=order, send=False, person=story.owner)
