"""What is offered, at which price? One row a revision; a change order is a quote of the difference."""

from __future__ import annotations

from decimal import Decimal

from django.db import models
from django.urls import reverse

from jobs.enums import Grade
from jobs.fields import HoursField, MassField, MoneyField, PercentField, QuantityField
from jobs.models import Change, Job, LabourRate, Person, Phase
from quotes.enums import WAYS, Detail, LineKind, OverheadOn, QuoteState
from quotes.models.documents import IssuedDocument

MAY_BE_LESS = models.Q(source=WAYS) | models.Q(omits__isnull=False)
"""Another way may cost less than the way taken; leaving such a line out writes its figures down again."""


class Quote(models.Model):
    """One revision of a quote, or of a change order when it has a `change`.

    Once issued it stands as it is: `snapshot` is what the client was shown, `document` the PDF. What has to
    be different becomes the next revision.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="quotes")
    change = models.ForeignKey(Change, on_delete=models.PROTECT, null=True, blank=True, related_name="quotes")
    number = models.CharField(max_length=40)
    revision = models.PositiveSmallIntegerField(default=1)
    state = models.CharField(max_length=10, choices=QuoteState, default=QuoteState.DRAFT)
    title = models.CharField(max_length=160)
    introduction = models.TextField("what is offered, in words", blank=True)
    detail = models.CharField("shown to the client", max_length=8, choices=Detail, default=Detail.ITEMS)
    currency = models.CharField(max_length=3)

    overhead_on = models.CharField(max_length=12, choices=OverheadOn, default=OverheadOn.NONE)
    overhead_rate = MoneyField("overhead, money an hour or per cent", default=Decimal(0))
    contingency_percent = PercentField("contingency, %", default=Decimal(0))
    profit = models.JSONField("markup or margin by kind of cost", default=dict)
    discount_percent = PercentField("discount on the whole, %", default=Decimal(0))
    discount_amount = MoneyField("discount on the whole, amount", default=Decimal(0))

    payment_stages = models.JSONField(default=list, blank=True)
    exclusions = models.TextField("not included, one a line", blank=True)
    terms = models.TextField(blank=True)
    days_valid = models.PositiveSmallIntegerField("valid for, days", default=30)
    valid_until = models.DateField(null=True, blank=True)
    shows_progress = models.BooleanField("the client may follow the progress", default=False)

    version = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    issued_at = models.DateTimeField(null=True, blank=True)
    issued_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    decided_at = models.DateTimeField(null=True, blank=True)
    snapshot = models.JSONField(null=True, blank=True)
    document = models.OneToOneField(
        IssuedDocument, on_delete=models.PROTECT, null=True, blank=True, related_name="quote"
    )

    class Meta:
        ordering = ["job", "number", "-revision"]
        constraints = [
            models.UniqueConstraint(fields=["number", "revision"], name="one_revision_a_number"),
            models.CheckConstraint(
                condition=models.Q(discount_percent__gte=0) & models.Q(discount_percent__lte=100),
                name="discount_between_0_and_100",
            ),
            models.CheckConstraint(
                condition=models.Q(discount_percent=0) | models.Q(discount_amount=0),
                name="one_discount_on_the_whole",
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=[QuoteState.DRAFT, QuoteState.WITHDRAWN])
                | models.Q(document__isnull=False),
                name="what_is_issued_has_its_document",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} revision {self.revision}"

    def get_absolute_url(self) -> str:
        return reverse("quotes:desk", args=[self.pk])

    @property
    def is_draft(self) -> bool:
        return self.state == QuoteState.DRAFT

    @property
    def is_change_order(self) -> bool:
        return self.change_id is not None


class QuoteLine(models.Model):
    """A line of a quote. A line that `omits` another takes it, or a share of it, out of the contract."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="lines")
    phase = models.ForeignKey(Phase, on_delete=models.PROTECT, related_name="quote_lines")
    position = models.PositiveSmallIntegerField(default=0)
    kind = models.CharField(max_length=16, choices=LineKind)
    description = models.CharField("what", max_length=240)
    quantity = QuantityField(default=Decimal(1))
    unit = models.CharField(max_length=16, blank=True)
    unit_cost = MoneyField("cost of one, without tax", default=Decimal(0))
    unit_price = MoneyField("fixed price of one, without tax", null=True, blank=True)

    whole_cost = MoneyField("cost of the whole quantity, where a plan says it", null=True, blank=True)
    labour_cost = MoneyField("labour within that cost", default=Decimal(0))

    hours_each = HoursField("hours for one", null=True, blank=True)
    grade = models.CharField("finish grade", max_length=10, choices=Grade, default=Grade.SEEN)
    grade_factor = QuantityField("share of the hours that the finish takes", default=Decimal(1))
    hours = HoursField(default=Decimal(0))
    labour_rate = models.ForeignKey(
        LabourRate, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    person = models.ForeignKey(Person, on_delete=models.PROTECT, null=True, blank=True, related_name="+")

    discount_percent = PercentField("discount, %", default=Decimal(0))
    tax_name = models.CharField("tax", max_length=60)
    optional = models.BooleanField("optional extra", default=False)
    chosen = models.BooleanField(default=False)
    group = models.CharField("alternatives of", max_length=60, blank=True)
    mass_kg = MassField("mass, kg", default=Decimal(0))

    source = models.CharField(max_length=20, blank=True)
    source_ref = models.CharField(max_length=60, blank=True)
    omits = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="omissions"
    )
    omitted_percent = PercentField("share left out, %", default=Decimal(100))
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["quote", "phase__position", "phase", "position", "pk"]
        constraints = [
            models.CheckConstraint(condition=models.Q(quantity__gt=0), name="a_quantity_over_nothing"),
            models.CheckConstraint(
                condition=models.Q(unit_cost__gte=0) | MAY_BE_LESS, name="line_cost_not_negative"
            ),
            models.CheckConstraint(
                condition=models.Q(hours__gte=0) | MAY_BE_LESS, name="line_hours_not_negative"
            ),
            models.CheckConstraint(
                condition=models.Q(discount_percent__gte=0) & models.Q(discount_percent__lte=100),
                name="line_discount_between_0_and_100",
            ),
            models.CheckConstraint(
                condition=models.Q(omitted_percent__gt=0) & models.Q(omitted_percent__lte=100),
                name="omitted_between_0_and_100",
            ),
        ]

    def __str__(self) -> str:
        return self.description
