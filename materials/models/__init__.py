"""What the materials room keeps: suppliers, the catalogue, prices, take-offs, plans, stock and orders."""

from materials.models.catalogue import Material, Price, StockSize, Supplier
from materials.models.loads import Supports
from materials.models.orders import Delivery, DeliveryLine, Order, OrderLine, OrderShare, TakenBack
from materials.models.plans import CuttingPlan, PlanShare, SawnStock
from materials.models.price_lists import PriceList
from materials.models.rates import GradeFactor, OperationRate
from materials.models.stock import StockItem, StockMove
from materials.models.takeoff import TakeoffItem

__all__ = [
    "CuttingPlan",
    "Delivery",
    "DeliveryLine",
    "GradeFactor",
    "Material",
    "OperationRate",
    "Order",
    "OrderLine",
    "OrderShare",
    "PlanShare",
    "Price",
    "PriceList",
    "SawnStock",
    "StockItem",
    "StockMove",
    "StockSize",
    "Supplier",
    "Supports",
    "TakenBack",
    "TakeoffItem",
]
