"""How is a Decimal kept so that no database ever rounds it? As a whole number of its smallest part."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from typing import TYPE_CHECKING, Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

LARGEST = Decimal(10) ** 14

if TYPE_CHECKING:
    AnyField = models.Field[Any, Any]
else:
    AnyField = models.Field  # subscriptable for the type checker alone


class ExactDecimalField(AnyField):
    """A Decimal stored as a big integer of 1/10**places.

    SQLite has no decimal type and would keep a float; an integer is exact there and on PostgreSQL, and so are
    its sums. A value with more digits is rounded half up on its way in.
    """

    places = 4
    shown_places = 0

    def get_internal_type(self) -> str:
        return "BigIntegerField"

    @property
    def validators(self) -> list[Any]:
        return [*self._validators, MinValueValidator(-LARGEST), MaxValueValidator(LARGEST)]  # type: ignore[attr-defined]  # Django keeps them there

    def from_db_value(self, value: int | Decimal | None, expression: Any, connection: Any) -> Decimal | None:
        if value is None:
            return None
        hidden = 10 ** (self.places - self.shown_places)
        if isinstance(value, int) and value % hidden == 0:  # nearly all of them, in a third of the time
            return Decimal(value // hidden).scaleb(-self.shown_places)
        return self.tidy(Decimal(value).scaleb(-self.places))

    def tidy(self, value: Decimal) -> Decimal:
        """The same number without trailing noughts, but never fewer digits than are usually written."""
        least = Decimal(1).scaleb(-self.shown_places)
        short = value.normalize()
        exponent = short.as_tuple().exponent
        return short if isinstance(exponent, int) and exponent < -self.shown_places else value.quantize(least)

    def to_python(self, value: Any) -> Decimal | None:
        if value is None or isinstance(value, Decimal):
            return value
        try:
            return Decimal(str(value))
        except InvalidOperation:
            raise ValidationError("“%(value)s” is not a number.", params={"value": value}) from None

    def get_prep_value(self, value: Any) -> Any:
        value = super().get_prep_value(value)
        if value is None or hasattr(value, "resolve_expression"):
            return value
        number = self.to_python(value)
        assert number is not None
        return int(number.scaleb(self.places).to_integral_value(ROUND_HALF_UP))

    def value_to_string(self, obj: models.Model) -> str:
        value = self.value_from_object(obj)
        return "" if value is None else str(value)

    def formfield(self, **kwargs: Any) -> Any:
        return super().formfield(
            **{"form_class": forms.DecimalField, "decimal_places": self.places, **kwargs}
        )


class MoneyField(ExactDecimalField):
    """An amount in the workshop's currency, exact to a ten-thousandth."""

    shown_places = 2


class HoursField(ExactDecimalField):
    """Hours of work."""


class QuantityField(ExactDecimalField):
    """How many or how much, in the unit beside it."""


class PercentField(ExactDecimalField):
    """A share in per cent: 12.5 is an eighth."""


class MassField(ExactDecimalField):
    """Mass in kilograms, exact to a tenth of a gram."""
