"""What can be bought, in which sizes, from whom and for how much?"""

from __future__ import annotations

from django.db import models
from django.db.models.functions import Coalesce
from django.urls import reverse

from jobs.fields import MassField, MoneyField, PercentField, QuantityField
from materials.enums import Grain, MaterialKind


class Supplier(models.Model):
    """Someone the workshop buys from."""

    name = models.CharField(max_length=120, unique=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(blank=True)
    account_number = models.CharField(max_length=40, blank=True)
    lead_days = models.PositiveSmallIntegerField(default=0)
    notes = models.TextField(blank=True)
    archived_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Material(models.Model):
    """A board, sheet, length, piece, liquid or fixing as the trade names it; sizes and prices stand apart."""

    code = models.CharField("own code", max_length=40, unique=True)
    name = models.CharField(max_length=160)
    kind = models.CharField(max_length=8, choices=MaterialKind)
    unit = models.CharField(max_length=12, default="each")
    thickness_mm10 = models.PositiveIntegerField(null=True, blank=True)
    width_mm10 = models.PositiveIntegerField(null=True, blank=True)
    cover_width_mm10 = models.PositiveIntegerField(null=True, blank=True)
    tongue_mm10 = models.PositiveIntegerField(null=True, blank=True)
    grain = models.CharField(max_length=6, choices=Grain, default=Grain.ALONG)
    density_kg_m3 = QuantityField("density, kg/m³", null=True, blank=True)
    moisture_percent = PercentField("at moisture, %", null=True, blank=True)
    density_source = models.CharField("where the density is from", max_length=120, blank=True)
    mass_per_unit_kg = MassField("mass of a unit, kg", null=True, blank=True)
    coverage_m2 = QuantityField("one unit covers, m²", null=True, blank=True)
    species = models.CharField(max_length=60, blank=True)
    reclaimed = models.BooleanField(default=False)
    notes = models.TextField(blank=True)
    archived_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["kind", "name"]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("materials:material", args=[self.pk])


class StockSize(models.Model):
    """A size the material is sold in: a length of board, a size of sheet, a pack, a tin."""

    material = models.ForeignKey(Material, on_delete=models.CASCADE, related_name="sizes")
    length_mm10 = models.PositiveIntegerField(null=True, blank=True)
    width_mm10 = models.PositiveIntegerField(null=True, blank=True)
    pack_quantity = QuantityField("how many or how much in a pack", default=1)
    archived_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["material", "length_mm10", "width_mm10", "pack_quantity"]
        constraints = [
            models.UniqueConstraint(
                "material",
                Coalesce("length_mm10", 0),
                Coalesce("width_mm10", 0),
                "pack_quantity",
                name="a_size_once",
            ),
            models.CheckConstraint(condition=models.Q(pack_quantity__gt=0), name="pack_holds_something"),
        ]

    def __str__(self) -> str:
        return f"{self.material}, size {self.pk}"


class Price(models.Model):
    """What one of a stock size costs at a supplier from a day on, without tax. Old prices stay."""

    size = models.ForeignKey(StockSize, on_delete=models.CASCADE, related_name="prices")
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="prices")
    price = MoneyField()
    from_date = models.DateField()
    supplier_code = models.CharField(max_length=60, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["size", "supplier", "-from_date"]
        constraints = [
            models.UniqueConstraint(fields=["size", "supplier", "from_date"], name="one_price_a_day"),
            models.CheckConstraint(condition=models.Q(price__gte=0), name="price_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.price} at {self.supplier}"
