"""What is ordered from whom for which job, what has come of it, and which phases bear it?"""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.db import models
from django.urls import reverse

from jobs.fields import MoneyField, QuantityField
from jobs.models import CostEntry, Job, Person, Phase
from materials.enums import OrderState
from materials.models.catalogue import Material, StockSize, Supplier


class Order(models.Model):
    """A purchase order for one job at one supplier. Placed, it keeps its paper and commits the phases."""

    number = models.CharField(max_length=20, unique=True)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="orders")
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="orders")
    state = models.CharField(max_length=10, choices=OrderState, default=OrderState.DRAFT)
    deliver_to = models.TextField("deliver to", blank=True)
    note = models.TextField("note to the supplier", blank=True)
    expected_on = models.DateField("delivery expected on", null=True, blank=True)
    placed_on = models.DateField(null=True, blank=True)
    pdf = models.BinaryField(null=True)
    pdf_sha256 = models.CharField(max_length=64, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["job", "state"], name="order_by_job")]

    def __str__(self) -> str:
        return f"Order {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("materials:order", args=[self.pk])

    @property
    def is_draft(self) -> bool:
        return self.state == OrderState.DRAFT

    @property
    def is_coming(self) -> bool:
        return self.state in (OrderState.PLACED, OrderState.PART)


class OrderLine(models.Model):
    """So many of one size at a price each. `received` follows from the deliveries."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField(default=0)
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    size = models.ForeignKey(StockSize, on_delete=models.PROTECT, related_name="+")
    words = models.CharField(max_length=240)
    supplier_code = models.CharField(max_length=60, blank=True)
    quantity = QuantityField()
    price = MoneyField("price of one, without tax")
    received = QuantityField(default=Decimal(0))

    class Meta:
        ordering = ["order", "position", "pk"]
        constraints = [
            models.CheckConstraint(condition=models.Q(quantity__gt=0), name="something_is_ordered"),
            models.CheckConstraint(condition=models.Q(price__gte=0), name="order_price_not_negative"),
            models.CheckConstraint(
                condition=models.Q(received__gte=0) & models.Q(received__lte=models.F("quantity")),
                name="no_more_comes_than_is_ordered",
            ),
            models.UniqueConstraint(fields=["order", "size"], name="a_size_once_an_order"),
        ]

    def __str__(self) -> str:
        return self.words

    @property
    def to_come(self) -> Decimal:
        left: Decimal = self.quantity - self.received
        return left


class OrderShare(models.Model):
    """What one phase bears of an order line, and how much of that is no longer committed.

    In a draft `amount` is only a weight; when the order is placed the shares are made to add up to the line.
    """

    line = models.ForeignKey(OrderLine, on_delete=models.CASCADE, related_name="shares")
    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="+")
    amount = MoneyField(default=Decimal(0))
    let_go = MoneyField(default=Decimal(0))

    class Meta:
        ordering = ["line", "phase"]
        constraints = [
            models.UniqueConstraint(fields=["line", "phase"], name="one_order_share_a_phase"),
            models.CheckConstraint(
                condition=models.Q(let_go__gte=0) & models.Q(let_go__lte=models.F("amount")),
                name="no_more_let_go_than_committed",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount} for {self.phase_id}"


class Delivery(models.Model):
    """Goods that came on an order. Where their receipt was logged at the bench, that is their cost.

    A receipt is the cost of one delivery, but for those that were taken back.
    """

    key = models.UUIDField(default=uuid.uuid4, unique=True)
    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="deliveries")
    on_date = models.DateField()
    paper = models.CharField("delivery note or invoice", max_length=60, blank=True)
    receipt = models.ForeignKey(
        CostEntry, on_delete=models.PROTECT, null=True, blank=True, related_name="deliveries"
    )
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-on_date", "-pk"]
        verbose_name_plural = "deliveries"

    def __str__(self) -> str:
        return f"Delivery of {self.on_date}"


class TakenBack(models.Model):
    """A delivery that was booked in by mistake, and why it counts no longer."""

    delivery = models.OneToOneField(Delivery, on_delete=models.PROTECT, related_name="taken_back")
    reason = models.CharField(max_length=180)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        verbose_name_plural = "taken back"

    def __str__(self) -> str:
        return f"{self.delivery}, taken back"


class DeliveryLine(models.Model):
    """So many of an order line came, at a price each."""

    delivery = models.ForeignKey(Delivery, on_delete=models.CASCADE, related_name="lines")
    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="deliveries")
    quantity = QuantityField()
    price = MoneyField()

    class Meta:
        ordering = ["delivery", "pk"]
        constraints = [models.CheckConstraint(condition=models.Q(quantity__gt=0), name="something_came")]

    def __str__(self) -> str:
        return f"{self.quantity} of {self.line_id}"
