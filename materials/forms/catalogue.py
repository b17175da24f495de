"""What is typed about a material, a size of it and a price."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs.form_fields import LengthField
from jobs.forms.versioned import VersionedForm
from materials.densities import usual_densities
from materials.enums import MaterialKind
from materials.models import Material, StockSize, Supplier
from materials.takeoff.movement import SATURATED_PCT

UNITS = ("each", "m", "m²", "l", "ml", "kg", "g", "pair", "set", "roll")


@dataclass(frozen=True)
class KindForm:
    """Which facts a kind of material has, what they are called there, and which measures its sizes have."""

    about: str
    fields: tuple[str, ...]
    labels: dict[str, str]
    size_fields: tuple[str, ...]
    usual_unit: str = "each"


_WOOD = (
    "species",
    "grain",
    "usual_density",
    "density_kg_m3",
    "moisture_percent",
    "density_source",
    "reclaimed",
)
KINDS: dict[str, KindForm] = {
    MaterialKind.BOARD: KindForm(
        "Tongue and groove, planed softwood, hardwood: bought by the length, laid by the cover width.",
        ("thickness_mm10", "width_mm10", "cover_width_mm10", "tongue_mm10", *_WOOD),
        {},
        ("length", "pack_quantity"),
    ),
    MaterialKind.SHEET: KindForm(
        "Plywood, MDF and other panels that parts are cut from.",
        ("thickness_mm10", *_WOOD),
        {"species": "Make-up"},
        ("length", "width", "pack_quantity"),
    ),
    MaterialKind.LENGTH: KindForm(
        "Mouldings, battens and edging, cut to length.",
        ("thickness_mm10", "width_mm10", *_WOOD, "mass_per_unit_kg"),
        {"mass_per_unit_kg": "Mass of a metre, kg"},
        ("length", "pack_quantity"),
    ),
    MaterialKind.PIECE: KindForm(
        "Hinges, runners, handles: counted, not cut.",
        ("unit", "mass_per_unit_kg"),
        {"mass_per_unit_kg": "Mass of one, kg"},
        ("pack_quantity",),
    ),
    MaterialKind.LIQUID: KindForm(
        "Paint, oil, varnish and adhesive, bought by the tin.",
        ("unit", "coverage_m2", "mass_per_unit_kg"),
        {
            "mass_per_unit_kg": "Mass of a litre (or of one unit), kg",
            "coverage_m2": "One unit covers, m², in one coat",
        },
        ("pack_quantity",),
        usual_unit="l",
    ),
    MaterialKind.FIXING: KindForm(
        "Screws, nails and bolts, bought by the box.",
        ("unit", "mass_per_unit_kg"),
        {"mass_per_unit_kg": "Mass of one, kg"},
        ("pack_quantity",),
    ),
}


class MaterialForm(VersionedForm):
    """A material of one kind; only what matters to that kind is asked."""

    thickness_mm10 = LengthField(label="Thickness", required=False, least_mm10=1, most_mm10=10_000)
    width_mm10 = LengthField(label="Width", required=False, least_mm10=1, most_mm10=100_000)
    cover_width_mm10 = LengthField(
        label="Cover width",
        required=False,
        least_mm10=1,
        most_mm10=100_000,
        help_text="What shows of it once laid: width less tongue.",
    )
    tongue_mm10 = LengthField(label="Tongue", required=False, least_mm10=1, most_mm10=1_000)
    usual_density = forms.ChoiceField(
        required=False,
        label="Take a usual density",
        help_text="Used where the density below is left empty. Weigh a piece where mass matters.",
    )

    class Meta:
        model = Material
        fields = [
            "name", "code", "unit", "thickness_mm10", "width_mm10", "cover_width_mm10", "tongue_mm10",
            "species", "grain", "density_kg_m3", "moisture_percent", "density_source",
            "mass_per_unit_kg", "coverage_m2", "reclaimed", "notes",
        ]  # fmt: skip
        help_texts = {"reclaimed": "Price nothing; its mass still counts."}
        widgets = {"notes": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, kind: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.kind = kind
        asked = KINDS[kind]
        self._keep(("name", "code", *asked.fields, "notes", "version"))
        self.fields["code"].required = False
        self.fields["code"].help_text = "Your own; left empty, the next number."
        for name, label in asked.labels.items():
            self.fields[name].label = label
        self._set_up(asked)

    def _keep(self, names: tuple[str, ...]) -> None:
        self.fields = {name: self.fields[name] for name in names}

    def _set_up(self, asked: KindForm) -> None:
        if "unit" in self.fields:
            self.fields["unit"] = forms.ChoiceField(
                choices=[(unit, unit) for unit in dict.fromkeys([asked.usual_unit, *UNITS])],
                help_text="What a quantity of it counts.",
            )
            if not self.instance.pk:
                self.initial["unit"] = asked.usual_unit
        if "usual_density" in self.fields:
            choices = [(str(at), one.words) for at, one in enumerate(usual_densities(self.kind))]
            self.fields["usual_density"].choices = [("", "none"), *choices]  # type: ignore[attr-defined]  # a choice field

    def clean_code(self) -> str:
        return " ".join(self.cleaned_data["code"].split())

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        cover, width = cleaned.get("cover_width_mm10"), cleaned.get("width_mm10")
        if cover and width and cover > width:
            self.add_error("cover_width_mm10", "A board can’t cover more than its width.")
        for name in ("density_kg_m3", "mass_per_unit_kg", "coverage_m2"):
            value = cleaned.get(name)
            if value is not None and value <= 0:
                self.add_error(name, "More than nothing.")
        moisture = cleaned.get("moisture_percent")
        if moisture is not None and not 0 <= moisture <= SATURATED_PCT:
            self.add_error("moisture_percent", "From 0 to 30 %: beyond that wood is as wet as it gets.")
        self._take_usual_density(cleaned)
        return cleaned

    def _take_usual_density(self, cleaned: dict[str, Any]) -> None:
        chosen = cleaned.get("usual_density")
        if chosen and cleaned.get("density_kg_m3") is None and "density_kg_m3" not in self.errors:
            usual = usual_densities(self.kind)[int(chosen)]
            cleaned["density_kg_m3"] = usual.kg_m3
            if cleaned.get("moisture_percent") is None:
                cleaned["moisture_percent"] = usual.moisture_percent
            cleaned["density_source"] = cleaned.get("density_source") or usual.source

    @property
    def details(self) -> dict[str, Any]:
        """What was typed, by field of the model."""
        typed = {name: value for name, value in super().details.items() if name != "usual_density"}
        return typed if self.instance.pk else {"unit": KINDS[self.kind].usual_unit, **typed}


class _Priced(forms.Form):
    """A supplier with a price without tax, from a day on."""

    supplier = forms.ModelChoiceField(queryset=Supplier.objects.none(), required=False, empty_label="none")
    price = forms.DecimalField(
        required=False, min_value=0, max_digits=12, decimal_places=4, label="Price without tax"
    )
    supplier_code = forms.CharField(required=False, max_length=60, label="Supplier’s code")
    from_date = forms.DateField(
        required=False, label="Price from", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["supplier"].queryset = Supplier.objects.filter(archived_at=None)  # type: ignore[attr-defined]
        self.fields["from_date"].initial = timezone.localdate()

    @property
    def priced(self) -> dict[str, Any]:
        """The price as the service takes it."""
        return {name: self.cleaned_data[name] for name in ("supplier", "price", "supplier_code", "from_date")}

    def clean_from_date(self) -> Any:
        return self.cleaned_data["from_date"] or timezone.localdate()


class SizeForm(_Priced):
    """A size the material is sold in, with its first price if it is known."""

    length = LengthField(least_mm10=500, most_mm10=1_000_000)
    width = LengthField(least_mm10=500, most_mm10=500_000)
    pack_quantity = forms.DecimalField(
        label="In a pack", min_value=0, max_digits=10, decimal_places=4, required=False
    )
    field_order = ["length", "width", "pack_quantity", "supplier", "price", "supplier_code", "from_date"]

    def __init__(self, *args: Any, material: Material, **options: Any) -> None:
        super().__init__(*args, prefix="size", **options)
        asked = KINDS[material.kind].size_fields
        for name in ("length", "width", "pack_quantity"):
            if name not in asked:
                del self.fields[name]
        if "length" in asked:
            self.fields["pack_quantity"].help_text = "1, unless only sold by the bundle."
        else:
            self.fields["pack_quantity"].help_text = f"How many {material.unit} in it."
            self.fields["pack_quantity"].required = True

    def clean_pack_quantity(self) -> Any:
        quantity = self.cleaned_data["pack_quantity"]
        if quantity == 0:
            raise ValidationError("A pack holds something.")
        return quantity or 1

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if cleaned.get("price") is not None and not cleaned.get("supplier"):
            self.add_error("supplier", "Whose price is it?")
        if cleaned.get("supplier") and cleaned.get("price") is None and "price" not in self.errors:
            self.add_error("price", "What does it cost there?")
        return cleaned


class PriceForm(_Priced):
    """A new price for a size that is there."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    size = forms.ModelChoiceField(queryset=StockSize.objects.none(), empty_label=None)
    field_order = ["size", "supplier", "price", "supplier_code", "from_date"]

    def __init__(self, *args: Any, material: Material, size_names: dict[int, str], **options: Any) -> None:
        super().__init__(*args, prefix="price", **options)
        sizes = self.fields["size"]
        sizes.queryset = StockSize.objects.filter(material=material, archived_at=None)  # type: ignore[attr-defined]
        sizes.choices = list(size_names.items())  # type: ignore[attr-defined]
        self.fields["supplier"].required = self.fields["price"].required = True


class SupplierForm(VersionedForm):
    """Someone the workshop buys from."""

    class Meta:
        model = Supplier
        fields = ["name", "email", "phone", "address", "account_number", "lead_days", "notes"]
        labels = {
            "email": "E-mail",
            "account_number": "Our account number",
            "lead_days": "Days from order to delivery",
        }
        widgets = {"address": forms.Textarea(attrs={"rows": 3}), "notes": forms.Textarea(attrs={"rows": 3})}

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        others = Supplier.objects.filter(name__iexact=name).exclude(pk=self.instance.pk)
        if others.exists():
            raise ValidationError("There is a supplier of that name already.")
        return name
