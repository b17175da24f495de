"""What may be typed about a quote as a whole: price rules, and words?"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms

from jobs.money import ZERO
from quotes.enums import LineKind, OverheadOn, ProfitOn
from quotes.models import Quote
from quotes.pricing import PricingError
from quotes.queries.figures import profit_of

LARGEST_PERCENT = Decimal(1000)


class VersionedForm(forms.ModelForm):  # type: ignore[type-arg]  # generic for the type checker alone
    """A form that knows which version of the quote was read."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["version"].initial = self.instance.version


class RulesForm(VersionedForm):
    """Overhead, contingency, markup or margin by kind of cost, discount on the whole."""

    class Meta:
        model = Quote
        fields = (
            "overhead_on",
            "overhead_rate",
            "contingency_percent",
            "discount_percent",
            "discount_amount",
        )
        labels = {"overhead_on": "Overhead on", "overhead_rate": "Overhead, money an hour or %"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for kind in LineKind:
            kept = self.instance.profit.get(kind.value, {"basis": ProfitOn.MARKUP.value, "percent": "0"})
            self.fields[f"{kind.value}_basis"] = forms.ChoiceField(
                label=f"{kind.label} by", choices=ProfitOn.choices, initial=kept["basis"]
            )
            self.fields[f"{kind.value}_percent"] = forms.DecimalField(
                label=f"{kind.label}, %", initial=Decimal(kept["percent"]), decimal_places=2
            )
        for name in ("overhead_rate", "contingency_percent"):
            self.fields[name].validators.extend(
                forms.DecimalField(min_value=ZERO, max_value=LARGEST_PERCENT).validators
            )
        for field in self.fields.values():
            if isinstance(field, forms.DecimalField):
                field.widget.attrs |= {"inputmode": "decimal", "class": "figure"}

    def profit_rows(self) -> Iterator[tuple[str, forms.BoundField, forms.BoundField]]:
        """Kind, basis and per cent, for the table of the form."""
        for kind in LineKind:
            yield kind.label, self[f"{kind.value}_basis"], self[f"{kind.value}_percent"]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("discount_percent") and data.get("discount_amount"):
            self.add_error("discount_amount", "Give the discount in per cent or as an amount, not both.")
        if data.get("discount_amount") is not None and data["discount_amount"] < 0:
            self.add_error("discount_amount", "A discount is not below nothing.")
        if data.get("overhead_on") == OverheadOn.NONE:
            data["overhead_rate"] = ZERO
        for kind in LineKind:
            self._check_profit(kind.value, data)
        return data

    def _check_profit(self, kind: str, data: dict[str, Any]) -> None:
        basis, percent = data.get(f"{kind}_basis"), data.get(f"{kind}_percent")
        if basis is None or percent is None:
            return
        try:
            profit_of({"basis": basis, "percent": str(percent)})
        except PricingError as error:
            self.add_error(f"{kind}_percent", str(error))
        if percent > LARGEST_PERCENT:
            self.add_error(f"{kind}_percent", f"At most {LARGEST_PERCENT} %.")

    def to_save(self) -> dict[str, Any]:
        """The fields for the service."""
        data = self.cleaned_data
        profit = {
            kind.value: {
                "basis": data[f"{kind.value}_basis"],
                "percent": f"{data[f'{kind.value}_percent'].normalize():f}",
            }
            for kind in LineKind
        }
        return {name: data[name] for name in self.Meta.fields} | {"profit": profit}


class WordsForm(VersionedForm):
    """What the client reads besides the lines."""

    stages = forms.CharField(
        label="Payment stages, one a line: per cent, then when",
        widget=forms.Textarea(attrs={"rows": 4}),
        required=False,
    )

    class Meta:
        model = Quote
        fields = ("title", "introduction", "detail", "days_valid", "exclusions", "terms", "shows_progress")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["stages"] = "\n".join(
            f"{each['percent']} {each['title']}" for each in self.instance.payment_stages
        )
        self.fields["days_valid"].validators.extend(forms.IntegerField(min_value=1, max_value=365).validators)
        for name in ("introduction", "exclusions", "terms"):
            self.fields[name].widget.attrs["rows"] = 4
        self.order_fields(["title", "introduction", "detail", "days_valid", "stages"])

    def clean_stages(self) -> list[dict[str, str]]:
        stages = [_stage(line) for line in self.cleaned_data["stages"].splitlines() if line.strip()]
        if stages and sum((Decimal(each["percent"]) for each in stages), ZERO) != 100:
            raise forms.ValidationError("The stages must add up to 100 %.")
        return stages

    def to_save(self) -> dict[str, Any]:
        """The fields for the service."""
        data = self.cleaned_data
        return {name: data[name] for name in self.Meta.fields} | {"payment_stages": data["stages"]}


def _stage(line: str) -> dict[str, str]:
    percent, _, title = line.strip().replace("%", " ").partition(" ")
    try:
        share = Decimal(percent.replace(",", "."))
    except InvalidOperation:
        raise forms.ValidationError(f"“{line.strip()}” does not begin with a per cent.") from None
    if share <= 0 or not title.strip():
        raise forms.ValidationError(f"“{line.strip()}”: write a per cent above nothing, then when it is due.")
    return {"percent": f"{share.normalize():f}", "title": title.strip()}
