"""What may be typed on a line: labour, a cost, or a sum?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms

from jobs.models import LabourRate, PersonRate
from jobs.workshop import current_workshop
from quotes.enums import COST_KINDS, SUM_KINDS, WAYS, LineKind
from quotes.models import QuoteLine
from quotes.pricing.labour import FINISH_FACTORS
from quotes.queries.figures import tax_names

LARGEST_QUANTITY = Decimal(1_000_000)
LARGEST_HOURS = Decimal(10_000)
LARGEST_AMOUNT = Decimal(100_000_000)
NOT_KEPT = frozenset({"version", "rate", "at_charge_rate"})
EXTRAS = ("discount_percent", "tax_name", "optional", "group", "mass_kg")


class LineForm(forms.ModelForm):  # type: ignore[type-arg]  # generic for the type checker alone
    """What all lines share: the rate of tax by name, the version that was read, sane sizes."""

    version = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, on: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.on = on
        self.fields["tax_name"] = forms.ChoiceField(
            label="Tax", choices=[(name, name) for name in tax_names()]
        )
        self._limit("quantity", LARGEST_QUANTITY, Decimal("0.0001"))
        least = -LARGEST_AMOUNT if self.instance.source == WAYS else Decimal(0)
        self._limit("unit_cost", LARGEST_AMOUNT, least)
        self._limit("unit_price", LARGEST_AMOUNT, Decimal(0))
        self._limit("mass_kg", LARGEST_QUANTITY, max(least, -LARGEST_QUANTITY))
        self._limit("discount_percent", Decimal(100), Decimal(0))
        if self.instance.pk:
            self.fields["version"].initial = self.instance.version

    def _limit(self, name: str, largest: Decimal, least: Decimal) -> None:
        if name in self.fields:
            field = self.fields[name]
            if isinstance(field, forms.DecimalField):
                field.validators.extend(forms.DecimalField(max_value=largest, min_value=least).validators)
                field.widget.attrs["inputmode"] = "decimal"
                field.widget.attrs["class"] = "figure"

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if said.get("group") and not said.get("optional"):
            self.add_error("group", "Alternatives are optional lines: tick “optional”, or leave this empty.")
        return said

    def to_save(self) -> dict[str, Any]:
        """The fields for the service, ready to be kept."""
        return {name: value for name, value in self.cleaned_data.items() if name not in NOT_KEPT}


class LabourForm(LineForm):
    """Hours: a quantity at so many hours each, at a rate of the trade or of a person."""

    ORDER = (
        "description",
        "quantity",
        "unit",
        "hours_each",
        "rate",
        "at_charge_rate",
        "unit_price",
        "grade",
        "grade_factor",
    )

    rate = forms.ChoiceField(label="Rate")
    at_charge_rate = forms.BooleanField(
        label="At its charge rate",
        help_text="in place of overhead, contingency and markup",
        required=False,
    )

    class Meta:
        model = QuoteLine
        fields = (
            "description",
            "quantity",
            "unit",
            "hours_each",
            "grade",
            "grade_factor",
            "unit_price",
            *EXTRAS,
        )
        labels = {
            "unit": "Unit",
            "hours_each": "Hours for one",
            "unit_price": "Fixed charge an hour",
            "grade_factor": "Share of the hours",
        }
        help_texts = {
            "unit": "empty for plain hours or a job as a whole",
            "unit_price": "another than the rate’s, in its place",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rates = {rate.key: rate for rate in labour_rates(self.on)}
        choices = [(rate.key, rate.words) for rate in self.rates.values()]
        self.fields["rate"] = forms.ChoiceField(label="Rate", choices=choices, initial=self._rate_kept())
        self._start_at_charge_rate()
        self.fields["hours_each"].required = True
        self.fields["grade_factor"].required = False
        self.fields["grade_factor"].help_text = ", ".join(
            f"{grade} {factor}" for grade, factor in FINISH_FACTORS.items()
        )
        if not self.instance.pk:
            self.initial["grade_factor"] = ""
        self._limit("hours_each", LARGEST_HOURS, Decimal(0))
        self._limit("grade_factor", Decimal(10), Decimal("0.01"))
        self.order_fields(self.ORDER)

    def _start_at_charge_rate(self) -> None:
        """A new line as the workshop usually does it, a kept one as it stands."""
        if not self.instance.pk:
            self.initial["at_charge_rate"] = current_workshop().labour_at_charge_rate
            return
        rate = self.rates.get(self._rate_kept())
        if rate and self.instance.unit_price == rate.charge:
            self.initial.update(at_charge_rate=True, unit_price=None)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        data["kind"] = LineKind.LABOUR
        if data.get("grade_factor") is None and "grade" in data:
            data["grade_factor"] = FINISH_FACTORS[data["grade"]]
        chosen = self.rates.get(data.get("rate", ""))
        if chosen is not None:
            kind, _, pk = chosen.key.partition(":")
            data["unit_cost"] = chosen.cost
            if data.get("at_charge_rate") and data.get("unit_price") is None:
                data["unit_price"] = chosen.charge
            data["labour_rate_id"] = int(pk) if kind == "trade" else None
            data["person_id"] = int(pk) if kind == "person" else None
        return data

    def _rate_kept(self) -> str:
        if self.instance.person_id:
            return f"person:{self.instance.person_id}"
        return f"trade:{self.instance.labour_rate_id}"


class CostForm(LineForm):
    """Anything bought: material, subcontract, hire, travel, other."""

    class Meta:
        model = QuoteLine
        fields = ("kind", "description", "quantity", "unit", "unit_cost", "unit_price", *EXTRAS)
        labels = {"unit": "Unit", "unit_price": "Fixed price of one"}
        help_texts = {"unit_price": "in place of overhead, contingency and markup"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"] = kind_field(COST_KINDS)
        self.order_fields(["description", "kind", "quantity", "unit", "unit_cost"])


class SumForm(LineForm):
    """A prime cost or provisional sum: an amount, adjusted later to what is really spent."""

    class Meta:
        model = QuoteLine
        fields = ("kind", "description", "unit_cost", "tax_name")
        labels = {"unit_cost": "The sum, without tax"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"] = kind_field(SUM_KINDS)
        self.order_fields(["description", "kind", "unit_cost"])


FORMS: dict[str, type[LineForm]] = {"labour": LabourForm, "cost": CostForm, "sum": SumForm}


def form_for(kind: str) -> type[LineForm]:
    """The form of a line that is kept."""
    if kind == LineKind.LABOUR:
        return LabourForm
    return SumForm if kind in SUM_KINDS else CostForm


def kind_field(kinds: Iterable[LineKind]) -> forms.ChoiceField:
    """A choice among some kinds of line."""
    return forms.ChoiceField(label="Kind", choices=[(kind.value, kind.label) for kind in kinds])


@dataclass(frozen=True)
class HourlyRate:
    """What an hour of a trade or a person costs and is charged at; the key names which."""

    key: str
    name: str
    cost: Decimal
    charge: Decimal

    @property
    def words(self) -> str:
        return f"{self.name}: costs {self.cost:.2f}, charged {self.charge:.2f} an hour"


def labour_rates(on: date) -> list[HourlyRate]:
    """Rates in force on a day; the trade's first, then people's."""
    found: dict[str, HourlyRate] = {}
    for trade in LabourRate.objects.filter(from_date__lte=on).order_by("name", "from_date"):
        key = f"trade:{trade.pk}"
        found[f"trade {trade.name}"] = HourlyRate(key, trade.name, trade.cost_rate, trade.charge_rate)
    people = PersonRate.objects.filter(from_date__lte=on, person__is_active=True).select_related("person")
    for rate in people.order_by("person__name", "from_date"):
        key, name = f"person:{rate.person_id}", rate.person.name
        found[f"person {rate.person_id}"] = HourlyRate(key, name, rate.cost_rate, rate.charge_rate)
    return list(found.values())
