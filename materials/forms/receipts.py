"""What is typed about a price on a receipt."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from jobs.money import format_money
from jobs.workshop import current_workshop
from materials.models import StockSize
from materials.queries.receipts import Choice, ReceiptPage


class ReceiptPriceForm(forms.Form):
    """Which size, and what one of it costs by the receipt."""

    size = forms.ChoiceField(label="What")
    price = forms.DecimalField(
        label="Price of one by the receipt, without tax",
        min_value=Decimal(0),
        max_digits=12,
        decimal_places=4,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )

    def __init__(self, *args: Any, page: ReceiptPage, **options: Any) -> None:
        super().__init__(*args, **{**options, "initial": {"price": page.said_price}})
        self.page = page
        self.fields["size"].choices = [(one.size_id, _words(one)) for one in page.choices]  # type: ignore[attr-defined]  # a choice field

    @property
    def words(self) -> str:
        chosen = int(self.cleaned_data["size"])
        return next(one.words for one in self.page.choices if one.size_id == chosen)

    @property
    def priced(self) -> dict[str, Any]:
        """What the catalogue is to say from the day of the receipt."""
        return {
            "size": StockSize.objects.get(pk=self.cleaned_data["size"]),
            "supplier": self.page.supplier,
            "price": self.cleaned_data["price"],
            "from_date": self.page.entry.on_date,
        }


def _words(choice: Choice) -> str:
    workshop = current_workshop()
    return f"{choice.words}, {format_money(choice.price, workshop.currency, workshop.locale)} so far"
