"""How is a changed field told? By its name in the trade's words, and both values as the pages write them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING, Any

from django.core.exceptions import FieldDoesNotExist
from django.db import models

from jobs.fields import ExactDecimalField, MoneyField
from jobs.templatetags.figures import amount, as_length, day, money, seconds_as_hours

LONGEST = 400
NOTHING = "nothing"
# Fields that the pages show only to those who see prices.
BESIDE_MONEY = frozenset({"account_number", "bank_details", "tax_number"})
LABELS = {"on_date": "Day", "seconds": "Hours"}
YES_NO = {"True": "yes", "False": "no"}
# Words kept beside a record's own fields that tell no money.
PLAIN = frozenset({"entries", "lines", "name", "paper", "reason", "state", "title", "to", "week"})

if TYPE_CHECKING:
    Field = models.Field[Any, Any]
else:
    Field = models.Field  # subscriptable for the type checker alone


@dataclass(frozen=True)
class Changed:
    """One field: what it said before and after; nothing before where it is new."""

    label: str
    before: str
    after: str


def changed_fields(
    model: type[models.Model], changes: Mapping[str, Any], *, money: bool
) -> tuple[Changed, ...]:
    """The fields of one change in words. Without `money` only those known to hold none are told."""
    told = [(name, _field(model, name), both) for name, both in changes.items()]
    return tuple(
        Changed(_label(name, field), _words(name, field, both[0]), _words(name, field, both[1]))
        for name, field, both in told
        if money or not _may_hold_money(name, field)
    )


def _field(model: type[models.Model], name: str) -> Field | None:
    try:
        field = model._meta.get_field(name)
    except FieldDoesNotExist:
        return None
    return field if isinstance(field, models.Field) else None


def _may_hold_money(name: str, field: Field | None) -> bool:
    if field is None:
        return name not in PLAIN
    return isinstance(field, MoneyField) or name in BESIDE_MONEY


def _label(name: str, field: Field | None) -> str:
    if name in LABELS:
        return LABELS[name]
    words = str(field.verbose_name) if field is not None else name.replace("_", " ")
    return words.removesuffix(" mm10").capitalize()


def _words(name: str, field: Field | None, value: Any) -> str:
    if value is None or value in {"", "None", "[]", "{}"}:
        return NOTHING
    text = str(value)
    try:
        return _typed(name, field, text)[:LONGEST]
    except (ValueError, InvalidOperation):
        return text[:LONGEST]


def _typed(name: str, field: Field | None, text: str) -> str:
    if field is None:
        return text
    for fits, write in _WAYS:
        if fits(name, field):
            return write(field, text)
    return text


def _is_plain_date(_: str, field: Field) -> bool:
    return isinstance(field, models.DateField) and not isinstance(field, models.DateTimeField)


# The first way that fits a field writes it.
_WAYS: Sequence[tuple[Callable[[str, Field], bool], Callable[[Field, str], str]]] = (
    (lambda _, field: bool(field.choices), lambda field, text: str(dict(field.flatchoices).get(text, text))),
    (lambda name, _: name.endswith("_mm10"), lambda _, text: as_length(int(text))),
    (lambda name, _: name == "seconds", lambda _, text: seconds_as_hours(int(text))),
    (lambda _, field: isinstance(field, MoneyField), lambda _, text: money(Decimal(text))),
    (lambda _, field: isinstance(field, ExactDecimalField), lambda _, text: amount(Decimal(text))),
    (_is_plain_date, lambda _, text: day(date.fromisoformat(text))),
    (lambda _, field: isinstance(field, models.BooleanField), lambda _, text: YES_NO.get(text, text)),
)
