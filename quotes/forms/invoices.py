"""What may be typed about invoices, payments and credits?"""

from __future__ import annotations

import uuid
from decimal import Decimal
from typing import Any

from django import forms

from jobs.money import ZERO
from quotes.models import Invoice

LARGEST = Decimal(100_000_000)
REMINDER = (
    "Dear {name},\n\nour invoice {number} over {amount} was due on {due} and is still open. It may have"
    " crossed with your payment; if not, please let us know when to expect it.\n\nThe invoice is attached."
)
COVER = "Dear {name},\n\nour {kind} {number} is attached.\n\nThank you."


class RestForm(forms.Form):
    """How much is held back of the final account?"""

    retention_percent = forms.DecimalField(
        label="Retention held back, %",
        min_value=ZERO,
        max_value=50,
        decimal_places=2,
        initial=0,
        required=False,
    )

    def clean_retention_percent(self) -> Decimal:
        return self.cleaned_data["retention_percent"] or ZERO


class CreditForm(forms.Form):
    """How much is credited, without tax?"""

    amount = forms.DecimalField(
        label="Amount without tax",
        help_text="empty: all that is left of the invoice. What is credited can be invoiced again: to take it"
        " off the price for good, agree a change order too",
        min_value=Decimal("0.01"),
        max_value=LARGEST,
        decimal_places=3,
        required=False,
    )


class PaymentForm(forms.Form):
    """Money that came in."""

    amount = forms.DecimalField(label="Amount", min_value=-LARGEST, max_value=LARGEST, decimal_places=3)
    on = forms.DateField(label="On", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    note = forms.CharField(label="Note", max_length=160, required=False)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)


class LetterForm(forms.Form):
    """To whom and with which words does an invoice or a reminder go?"""

    to = forms.EmailField(label="To")
    words = forms.CharField(label="Words", widget=forms.Textarea(attrs={"rows": 8}), max_length=4000)

    def __init__(self, *args: Any, invoice: Invoice, open_words: str, overdue: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        client = invoice.job.client
        self.fields["to"].initial = client.email
        due = f"{invoice.due_on:%d %B %Y}" if invoice.due_on else ""
        self.fields["words"].initial = (REMINDER if overdue else COVER).format(
            name=client.contact or client.name,
            number=invoice.number,
            kind="credit note" if invoice.is_credit_note else "invoice",
            amount=open_words,
            due=due,
        )
