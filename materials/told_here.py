"""The records of this room whose history is told."""

from __future__ import annotations

from django.urls import reverse

from jobs.templatetags.figures import day
from jobs.told import OWNER, SEES_PRICES, Parts, Told, register
from materials.models import (
    CuttingPlan,
    Material,
    Order,
    OrderLine,
    Price,
    PriceList,
    StockItem,
    StockSize,
    Supplier,
    Supports,
    TakeoffItem,
)
from materials.queries.catalogue import words_of


def register_all() -> None:
    """Called when the room is ready."""
    register(
        Told(
            Supplier,
            "Supplier",
            OWNER,
            back=lambda supplier: reverse("materials:supplier", args=[supplier.pk]),
        ),
        Told(Material, "Material", parts=_sizes_and_prices),
        Told(
            StockSize,
            "Size",
            back=lambda size: size.material.get_absolute_url(),
            leans_on=("material",),
            name=_size,
        ),
        Told(
            Price,
            "Price",
            SEES_PRICES,
            back=lambda price: price.size.material.get_absolute_url(),
            leans_on=("size__material", "supplier"),
            name=_price,
        ),
        Told(PriceList, "Price list", OWNER),
        Told(TakeoffItem, "Take-off"),
        Told(
            Supports,
            "Load on supports",
            back=lambda supports: reverse("materials:mass", args=[supports.job_id]),
            leans_on=("job",),
            name=lambda supports: supports.job.number,
        ),
        Told(CuttingPlan, "Cutting plan"),
        Told(StockItem, "Stock"),
        Told(Order, "Order", parts=_lines, name=lambda order: order.number),
        Told(OrderLine, "Line", back=lambda line: line.order.get_absolute_url()),
    )


def _sizes_and_prices(material: Material) -> Parts:
    return {
        "stocksize": StockSize.objects.filter(material=material).values_list("pk", flat=True),
        "price": Price.objects.filter(size__material=material).values_list("pk", flat=True),
    }


def _lines(order: Order) -> Parts:
    return {"orderline": OrderLine.objects.filter(order=order).values_list("pk", flat=True)}


def _size(size: StockSize) -> str:
    return words_of(size.material, size)


def _price(price: Price) -> str:
    return f"{_size(price.size)} at {price.supplier}, from {day(price.from_date)}"
