"""Who is the workshop, and by which rules of money and measure does it work?"""

from __future__ import annotations

from decimal import Decimal

from django.db import models

from jobs.enums import Measurement, PaperSize
from jobs.fields import HoursField, MoneyField, PercentField


class Workshop(models.Model):
    """One row: the letterhead and the rules every job starts from."""

    name = models.CharField(max_length=120)
    address = models.TextField(blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    website = models.URLField(blank=True)
    registration_number = models.CharField(max_length=40, blank=True)
    tax_number = models.CharField("tax or VAT number", max_length=40, blank=True)
    not_registered_for_tax = models.BooleanField("not registered for tax, so none is charged", default=False)
    bank_details = models.TextField(blank=True)
    logo = models.BinaryField(null=True, blank=True)
    logo_type = models.CharField(max_length=40, blank=True)

    currency = models.CharField(max_length=3, default="GBP")
    locale = models.CharField(max_length=20, default="en_GB")
    country = models.CharField(max_length=2, default="GB")
    time_zone = models.CharField(max_length=60, default="Europe/London")
    measurement = models.CharField(max_length=8, choices=Measurement, default=Measurement.METRIC)
    paper = models.CharField(max_length=8, choices=PaperSize, default=PaperSize.A4)

    hours_a_day = HoursField(default=Decimal(8))
    round_minutes_to = models.PositiveSmallIntegerField(default=0, help_text="0 keeps hours to the minute")
    overhead_an_hour = MoneyField("overhead on each hour of labour", default=Decimal(0))
    overhead_percent = PercentField("overhead on prime cost, %", default=Decimal(0))
    contingency_percent = PercentField("contingency, %", default=Decimal(5))
    labour_at_charge_rate = models.BooleanField("price labour at its charge rate", default=False)
    labour_markup_percent = PercentField("markup on labour, %", default=Decimal(40))
    material_markup_percent = PercentField("markup on material, %", default=Decimal(20))
    other_markup_percent = PercentField("markup on other cost, %", default=Decimal(15))
    alert_percent = PercentField("warn when the forecast passes the budget by, %", default=Decimal(10))

    version = models.PositiveIntegerField(default=1)

    calendar_key = models.CharField("secret of the calendar's address", max_length=64, blank=True)

    quote_days_valid = models.PositiveSmallIntegerField(default=30)
    quote_terms = models.TextField(blank=True)
    quote_exclusions = models.TextField("what is usually not included", blank=True)
    payment_stages = models.JSONField(default=list, blank=True)
    payment_days = models.PositiveSmallIntegerField(default=14)

    class Meta:
        constraints = [models.CheckConstraint(condition=models.Q(pk=1), name="only_one_workshop")]

    def __str__(self) -> str:
        return self.name


class TaxRate(models.Model):
    """A named rate of tax from a day on.

    Categories are EN 16931's: S standard, Z zero, E exempt, AE reverse charge.
    """

    name = models.CharField(max_length=60)
    category = models.CharField(max_length=2, default="S")
    percent = PercentField()
    reason = models.CharField("reason where no tax is charged", max_length=200, blank=True)
    from_date = models.DateField()
    is_default = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["name", "-from_date"]
        constraints = [
            models.UniqueConstraint(fields=["name", "from_date"], name="one_rate_a_name_and_day"),
            models.CheckConstraint(condition=models.Q(percent__gte=0), name="tax_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.percent} %"
