"""What the materials room keeps: suppliers, the catalogue, prices, take-offs, plans, stock and orders."""

from materials.models.catalogue import Material, Price, StockSize, Supplier
from materials.models.price_lists import PriceList
from materials.models.takeoff import TakeoffItem

__all__ = ["Material", "Price", "PriceList", "StockSize", "Supplier", "TakeoffItem"]
