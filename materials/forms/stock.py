"""What is typed about a thing in stock."""

from __future__ import annotations

import uuid
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.enums import OPEN_FOR_HOURS
from jobs.form_fields import LengthField
from jobs.models import Job, Phase
from materials.enums import StockSource
from materials.forms.catalogue import KINDS
from materials.models import Material, StockItem

_MOST = Decimal(1_000_000)


def _key() -> uuid.UUID:
    return uuid.uuid4()


class _Keyed(forms.Form):
    """A form whose key makes it count once, however often it is sent."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=_key)


class StockForm(_Keyed):
    """A board, a sheet, a tin that lies in the workshop."""

    material = forms.ModelChoiceField(queryset=Material.objects.none(), empty_label="choose…")
    length = LengthField(required=False, least_mm10=100, most_mm10=1_000_000)
    width = LengthField(required=False, least_mm10=100, most_mm10=500_000, help_text="Of a sheet.")
    quantity = forms.DecimalField(
        label="How many", min_value=Decimal("0.0001"), max_value=_MOST, max_digits=12, decimal_places=4,
        initial=1, help_text="Pieces of that size, or litres, screws: the material’s own unit.",
    )  # fmt: skip
    value = forms.DecimalField(
        label="Value of one, without tax", min_value=0, max_digits=12, decimal_places=4,
        required=False, help_text="What a job pays that uses it; nothing for reclaimed wood.",
    )  # fmt: skip
    source = forms.ChoiceField(
        label="How it came",
        choices=[(one.value, one.label) for one in StockSource if one != StockSource.LEFTOVER],
    )
    place = forms.CharField(label="Where it lies", required=False, max_length=80)
    notes = forms.CharField(required=False, max_length=240)

    def __init__(self, *args: Any, with_value: bool, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["material"].queryset = Material.objects.filter(archived_at=None)  # type: ignore[attr-defined]  # a choice field
        if not with_value:
            del self.fields["value"]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        material = cleaned.get("material")
        if material is None:
            return cleaned
        sized = KINDS[material.kind].size_fields
        for name in ("length", "width"):
            if name in sized and not cleaned.get(name) and name not in self.errors:
                self.add_error(name, f"A {material.get_kind_display()} has a {name}.")
            if name not in sized:
                cleaned[name] = None
        quantity = cleaned.get("quantity")
        if "length" in sized and quantity and quantity != int(quantity):
            self.add_error("quantity", "Whole pieces.")
        return cleaned


class TakeForm(_Keyed):
    """So many to a phase."""

    phase = forms.ModelChoiceField(queryset=Phase.objects.none(), empty_label="choose…")
    quantity = forms.DecimalField(
        label="How many",
        min_value=Decimal("0.0001"),
        max_value=_MOST,
        max_digits=12,
        decimal_places=4,
        initial=1,
    )

    def __init__(self, *args: Any, item: StockItem, **options: Any) -> None:
        super().__init__(*args, **{**options, "prefix": "take"})
        phases = Phase.objects.filter(job__state__in=OPEN_FOR_HOURS, job__archived_at=None)
        if item.reserved_for_id:
            phases = phases.filter(job=item.reserved_for_id)
        field = self.fields["phase"]
        field.queryset = phases.select_related("job").order_by("-job__number", "position", "pk")  # type: ignore[attr-defined]
        field.label_from_instance = lambda phase: f"{phase.job.number} {phase.job.title}: {phase.title}"  # type: ignore[attr-defined]
        self.item = item

    def clean_quantity(self) -> Decimal:
        quantity = self.cleaned_data["quantity"]
        if quantity > self.item.quantity:
            raise ValidationError(f"There are only {self.item.quantity.normalize():f}.")
        if self.item.length_mm10 and quantity != int(quantity):
            raise ValidationError("Whole pieces.")
        return Decimal(quantity)


class CountForm(_Keyed):
    """So many, as counted."""

    quantity = forms.DecimalField(
        label="There are", min_value=0, max_value=_MOST, max_digits=12, decimal_places=4
    )
    reason = forms.CharField(required=False, max_length=160, label="Why it differs")

    def __init__(self, *args: Any, item: StockItem, **options: Any) -> None:
        super().__init__(*args, **{**options, "prefix": "count", "initial": {"quantity": item.quantity}})


class ItemForm(forms.Form):
    """Where it lies, and for which job it is kept."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    place = forms.CharField(label="Where it lies", required=False, max_length=80)
    reserved_for = forms.ModelChoiceField(
        label="Kept for", queryset=Job.objects.none(), required=False, empty_label="any job"
    )
    value = forms.DecimalField(
        label="Value of one, without tax", min_value=0, max_digits=12, decimal_places=4
    )
    notes = forms.CharField(required=False, max_length=240)

    def __init__(self, *args: Any, item: StockItem, with_value: bool, **options: Any) -> None:
        options["initial"] = {
            "version": item.version,
            "place": item.place,
            "reserved_for": item.reserved_for_id,
            "value": item.value,
            "notes": item.notes,
        }
        super().__init__(*args, **{**options, "prefix": "item"})
        jobs = Job.objects.filter(archived_at=None).order_by("-number")
        self.fields["reserved_for"].queryset = jobs  # type: ignore[attr-defined]  # a choice field
        if not with_value:
            del self.fields["value"]
