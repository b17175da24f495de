"""What is typed about an order and a delivery."""

from __future__ import annotations

import uuid
from decimal import Decimal
from typing import Any, cast

from django import forms
from django.utils import timezone

from jobs.models import CostEntry, Job, Person, Phase
from materials.models import OrderLine, StockSize, Supplier
from materials.queries.orders import OrderPage
from materials.services.deliveries import Came, Goods
from materials.services.orders import LineEdit

_MOST = Decimal(1_000_000)


def _day_field(label: str, *, required: bool = True) -> forms.DateField:
    return forms.DateField(
        label=label, required=required, widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )


def _number(label: str, *, too_many: str = "", **options: Any) -> forms.DecimalField:
    """A number of at most four places that is not below nothing; what is refused, in the trade's words."""
    limits = {"min_value": 0, "max_digits": 12, "decimal_places": 4}
    refusals = {
        "invalid": "That is no number.",
        "min_value": "More than nothing." if options.get("min_value") else "Not less than nothing.",
        "max_value": too_many or f"At most {_MOST:,}.",
        "max_decimal_places": "At most four figures after the point.",
        "max_whole_digits": "At most eight figures before the point.",
        "max_digits": "At most eight figures before the point and four after it.",
    }
    return forms.DecimalField(**{"label": label, "error_messages": refusals, **limits, **options})


def _receipt_words(entry: CostEntry) -> str:
    return f"{entry.on_date:%-d %b}, {entry.supplier or 'no supplier'}, {entry.net}, {entry.phase}"


class NewOrderForm(forms.Form):
    """An order by hand, at a supplier."""

    supplier = forms.ModelChoiceField(queryset=Supplier.objects.none(), empty_label="choose…")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["supplier"].queryset = Supplier.objects.filter(archived_at=None)  # type: ignore[attr-defined]  # a choice field


class DraftForm(forms.Form):
    """How many of each line and at what price, and when it should come."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    expected_on = _day_field("Wanted by", required=False)
    deliver_to = forms.CharField(
        label="Deliver to", required=False, max_length=400, widget=forms.Textarea(attrs={"rows": 3})
    )
    note = forms.CharField(
        label="Note to the supplier",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def __init__(self, *args: Any, page: OrderPage, **options: Any) -> None:
        order = page.order
        first: dict[str, Any] = {"version": order.version, "expected_on": order.expected_on}
        first |= {"deliver_to": order.deliver_to, "note": order.note}
        super().__init__(*args, **{**options, "initial": first})
        self.lines = [shown.line for shown in page.lines]
        for line in self.lines:
            self.fields[f"quantity_{line.pk}"] = _number(
                f"How many: {line.words}", max_value=_MOST, initial=line.quantity
            )
            self.fields[f"price_{line.pk}"] = _number(f"Price: {line.words}", initial=line.price)

    @property
    def edits(self) -> list[LineEdit]:
        typed = self.cleaned_data
        return [
            LineEdit(line.pk, typed[f"quantity_{line.pk}"], typed[f"price_{line.pk}"]) for line in self.lines
        ]

    @property
    def rest(self) -> dict[str, Any]:
        typed = {name: self.cleaned_data[name] for name in ("expected_on", "deliver_to", "note")}
        return typed | {"version": self.cleaned_data["version"] or 0}

    def line_rows(self) -> list[tuple[OrderLine, list[forms.BoundField]]]:
        return [(line, [self[f"{name}_{line.pk}"] for name in ("quantity", "price")]) for line in self.lines]

    def other_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in ("expected_on", "deliver_to", "note")]


class AddLineForm(forms.Form):
    """One more line from what the supplier sells."""

    size = forms.ChoiceField(label="What")
    quantity = _number("How many", min_value=Decimal("0.0001"), max_value=_MOST, initial=1)
    phase = forms.ModelChoiceField(queryset=Phase.objects.none(), label="For phase", empty_label=None)

    def __init__(self, *args: Any, job: Job, sizes: dict[int, str], **options: Any) -> None:
        super().__init__(*args, **{**options, "prefix": "add"})
        self.fields["size"].choices = list(sizes.items())  # type: ignore[attr-defined]  # a choice field
        self.fields["phase"].queryset = Phase.objects.filter(job=job)  # type: ignore[attr-defined]  # a choice field

    @property
    def stock_size(self) -> StockSize:
        return StockSize.objects.select_related("material").get(pk=self.cleaned_data["size"])


class ReceiveForm(forms.Form):
    """How many of each line came, at what price."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    on_date = _day_field("Came on")
    paper = forms.CharField(label="Delivery note or invoice", required=False, max_length=60)
    tax = _number("Tax on it", required=False)
    receipt = forms.ModelChoiceField(
        label="Its receipt is logged already",
        queryset=CostEntry.objects.none(),
        required=False,
        empty_label="no: these goods are a new cost",
        help_text="Choose it, and the goods are not counted as a cost twice.",
    )

    def __init__(self, *args: Any, page: OrderPage, person: Person, asked: str = "", **options: Any) -> None:
        super().__init__(*args, **{**options, "initial": {"on_date": timezone.localdate()}})
        self.with_prices = person.sees_prices
        self.lines = [shown.line for shown in page.lines if shown.line.to_come]
        for line in self.lines:
            self._add(line)
        self._offer(page, person, asked)
        if not self.with_prices:
            del self.fields["tax"]

    def _offer(self, page: OrderPage, person: Person, asked: str) -> None:
        """Receipts to choose from, a maker's own; the one asked for, or that says it is for this order."""
        receipt = cast("forms.ModelChoiceField[CostEntry]", self.fields["receipt"])
        theirs = [one for one in page.receipts if self.with_prices or one.person_id == person.pk]
        offered = [one.pk for one in theirs]
        claims = [one.pk for one in page.claims if one.pk in offered]
        receipt.initial = next((pk for pk in offered if str(pk) == asked), claims[0] if claims else None)
        receipt.queryset = CostEntry.objects.select_related("phase").filter(pk__in=offered)
        receipt.label_from_instance = _receipt_words  # type: ignore[method-assign,assignment]  # as Django means it

    def _add(self, line: OrderLine) -> None:
        to_come = line.to_come.normalize()
        self.fields[f"came_{line.pk}"] = _number(
            f"Came: {line.words}",
            max_value=line.to_come,
            too_many=f"Only {to_come:f} {'is' if to_come == 1 else 'are'} to come.",
            initial=f"{to_come:f}",
            required=False,
        )
        if self.with_prices:
            self.fields[f"price_{line.pk}"] = _number(f"Price: {line.words}", initial=line.price)
            self.fields[f"keep_{line.pk}"] = forms.BooleanField(
                label=f"Keep the price in the catalogue: {line.words}", required=False
            )

    def clean_on_date(self) -> Any:
        day = self.cleaned_data["on_date"]
        if day > timezone.localdate():
            raise forms.ValidationError("That day is still to come.")
        return day

    @property
    def goods(self) -> Goods:
        typed = self.cleaned_data
        came = [
            Came(
                line.pk,
                typed[f"came_{line.pk}"] or Decimal(0),
                typed[f"price_{line.pk}"] if self.with_prices else line.price,
                typed.get(f"keep_{line.pk}", False),
            )
            for line in self.lines
        ]
        return Goods(
            came, typed["on_date"], typed["paper"], typed.get("tax") or Decimal(0), typed.get("receipt")
        )

    def line_rows(self) -> list[tuple[OrderLine, list[forms.BoundField]]]:
        names = ("came", "price", "keep") if self.with_prices else ("came",)
        return [(line, [self[f"{name}_{line.pk}"] for name in names]) for line in self.lines]

    def other_fields(self) -> list[forms.BoundField]:
        names = (
            ("on_date", "paper", "tax", "receipt") if self.with_prices else ("on_date", "paper", "receipt")
        )
        return [self[name] for name in names]
