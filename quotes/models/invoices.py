"""What has been asked for, and what has been paid?"""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.db import models
from django.urls import reverse

from jobs.fields import MoneyField, PercentField, QuantityField
from jobs.models import Job, Person
from quotes.enums import InvoiceKind, InvoiceState
from quotes.models.documents import IssuedDocument


class Invoice(models.Model):
    """A request for payment, or a credit note against one. Numbered when it is issued, in order, no gaps."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="invoices")
    kind = models.CharField(max_length=12, choices=InvoiceKind)
    state = models.CharField(max_length=10, choices=InvoiceState, default=InvoiceState.DRAFT)
    number = models.CharField(max_length=20, null=True, blank=True, unique=True)
    title = models.CharField(max_length=160)
    currency = models.CharField(max_length=3)
    stage = models.PositiveSmallIntegerField(null=True, blank=True)
    credits = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="credit_notes"
    )
    issued_on = models.DateField(null=True, blank=True)
    due_on = models.DateField(null=True, blank=True)
    without_tax = MoneyField(default=Decimal(0))
    tax = MoneyField(default=Decimal(0))
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    snapshot = models.JSONField(null=True, blank=True)
    document = models.OneToOneField(
        IssuedDocument, on_delete=models.PROTECT, null=True, blank=True, related_name="invoice"
    )

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(state=InvoiceState.DRAFT, number__isnull=True)
                | (~models.Q(state=InvoiceState.DRAFT) & models.Q(number__isnull=False)),
                name="a_number_once_issued",
            ),
        ]

    def __str__(self) -> str:
        return self.number or f"draft: {self.title}"

    def get_absolute_url(self) -> str:
        return reverse("quotes:invoice", args=[self.pk])

    @property
    def with_tax(self) -> Decimal:
        total: Decimal = self.without_tax + self.tax
        return total

    @property
    def is_credit_note(self) -> bool:
        return self.kind == InvoiceKind.CREDIT_NOTE


class InvoiceLine(models.Model):
    """A line of an invoice, with the rate of tax as it was."""

    invoice = models.ForeignKey(Invoice, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField(default=0)
    description = models.CharField(max_length=240)
    quantity = QuantityField(default=Decimal(1))
    net = MoneyField("net amount")
    tax_category = models.CharField(max_length=2)
    tax_percent = PercentField(default=Decimal(0))
    tax_reason_code = models.CharField(max_length=20, blank=True)
    tax_reason = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["invoice", "position", "pk"]

    def __str__(self) -> str:
        return self.description


class Payment(models.Model):
    """Money received on an invoice, or given back (below nothing). Added to, never changed."""

    key = models.UUIDField(default=uuid.uuid4, unique=True)
    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="payments")
    on_date = models.DateField()
    amount = MoneyField()
    note = models.CharField(max_length=160, blank=True)
    entered_at = models.DateTimeField(auto_now_add=True)
    entered_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["on_date", "pk"]
        constraints = [models.CheckConstraint(condition=~models.Q(amount=0), name="a_payment_of_something")]

    def __str__(self) -> str:
        return f"{self.amount} on {self.on_date}"
