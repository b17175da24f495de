"""How is a Decimal kept so that no database ever rounds it? As a whole number of its smallest part."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from functools import lru_cache
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


@lru_cache(maxsize=10_000)
def from_whole(value: int | Decimal, places: int, shown_places: int) -> Decimal:
    """A whole number of its smallest part as a Decimal, without trailing noughts beyond the shown places.

    A page of figures reads the same rates, quantities and prices over and over, hence the cache.

    >>> from_whole(125_000, 4, 2), from_whole(125_025, 4, 2)
    (Decimal('12.50'), Decimal('12.5025'))
    """
    hidden = 10 ** (places - shown_places)
    if value % hidden == 0:
        return Decimal(int(value) // hidden).scaleb(-shown_places)
    return Decimal(value).scaleb(-places).normalize()


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
        return from_whole(value, self.places, self.shown_places)

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
