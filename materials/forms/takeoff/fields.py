"""The fields that take-off forms are made of, and how they become calculation's inputs and back."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Any, TypeVar

from django import forms
from django.core.exceptions import ValidationError

from jobs.form_fields import length_as_typed
from jobs.lengths import LengthError, System, parse_length
from jobs.workshop import current_workshop
from materials.enums import CUT_AS, MaterialKind
from materials.models import Material
from materials.queries.lines import lined_items
from materials.takeoff.figures import plain

D = TypeVar("D")
Group = tuple[str, list[tuple[str, str]]]

_UNIT = re.compile(r"_(mm10|pct|m2_per_litre)$")


def form_name(field_name: str) -> str:
    """What the form calls a field of the inputs: its name without the unit."""
    return _UNIT.sub("", field_name)


def built(kind: type[D], cleaned: Mapping[str, Any], **given: Any) -> D:
    """Inputs made of what a form cleaned; what was left empty takes the inputs' own default."""
    assert is_dataclass(kind)
    taken = [(field, cleaned.get(form_name(field.name))) for field in fields(kind)]
    kept = {field.name: value for field, value in taken if not _takes_default(field, value)}
    return kind(**{**kept, **given})


def _takes_default(field: Field[Any], value: Any) -> bool:
    return value is None or (value == "" and field.default is not MISSING)


def initial_of(inputs: Any) -> dict[str, Any]:
    """What a form shows of inputs: plain fields only; it reads back as the very same inputs.

    A nothing is left empty only where empty is read as nothing: no stagger stands as 0, since left empty it
    would be the usual one.
    """
    held = [(field, getattr(inputs, field.name)) for field in fields(inputs)]
    return {form_name(f.name): _as_shown(value, f.default) for f, value in held if not _is_nested(value)}


def _is_nested(value: Any) -> bool:
    return is_dataclass(value) or (isinstance(value, tuple) and any(map(is_dataclass, value)))


def _as_shown(value: Any, default: Any) -> Any:
    if isinstance(value, StrEnum | bool):
        return value
    if not value and value == default:
        return ""
    return plain(value, 6) if isinstance(value, Decimal) else value


class WordedChoice(forms.TypedChoiceField):
    """A choice among the words of an enumeration of calculation's own."""

    def __init__(self, words: Mapping[Any, str], **options: Any) -> None:
        kind: Callable[[Any], Any] = type(next(iter(words)))
        choices = [(member.value, said) for member, said in words.items()]
        first = choices[0][0]
        super().__init__(choices=choices, coerce=kind, **{"initial": first, **options})


class MaterialChoice(forms.ChoiceField):
    """A choice among catalogue materials of some kinds; the form fills in which there are.

    Where they are counted `with_unit` says beside each name what one is: a hinge, or a pair.
    """

    def __init__(self, *kinds: MaterialKind, with_unit: bool = False, **options: Any) -> None:
        super().__init__(choices=[], **{"label": "Material", **options})
        self.kinds, self.with_unit = kinds, with_unit

    def offer(self, shelf: Shelf) -> None:
        """From now on these materials can be chosen."""
        self.choices = [("", "Choose…"), *shelf.of(self.kinds, with_unit=self.with_unit)]


class LengthsField(forms.CharField):
    """Several lengths with semicolons between."""

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value) or ""
        system = System(current_workshop().measurement)
        try:
            return tuple(parse_length(part, system) for part in text.split(";") if part.strip())
        except LengthError as problem:
            raise ValidationError(str(problem)) from None

    def prepare_value(self, value: Any) -> Any:
        if isinstance(value, tuple):
            system = System(current_workshop().measurement)
            return "; ".join(length_as_typed(length, system) for length in value)
        return value


class LinesChoice(forms.TypedChoiceField):
    """A choice among the items of the job whose lines fittings can be moved to."""

    def __init__(self, **options: Any) -> None:
        super().__init__(choices=[], coerce=int, empty_value=None, **options)

    def offer(self, shelf: Shelf) -> None:
        """From now on these items can be chosen."""
        self.choices = [("", "none"), *shelf.lined()]


class Shelf:
    """The materials that can be chosen, read once a page; archived ones where an item still names them."""

    def __init__(self, named: Iterable[str] = (), job_id: int | None = None) -> None:
        self.job_id = job_id
        kept = {int(key) for key in named if key.isdigit()}
        rows = Material.objects.filter(archived_at=None).values_list("pk", "kind", "name", "unit")
        self.rows = [(str(pk), kind, name, unit) for pk, kind, name, unit in rows]
        missing = kept - {int(key) for key, *_ in self.rows}
        if missing:
            found = Material.objects.filter(pk__in=missing).values_list("pk", "kind", "name", "unit")
            self.rows += [(str(pk), kind, f"{name} (put away)", unit) for pk, kind, name, unit in found]

    def lined(self) -> list[tuple[str, str]]:
        """The items of the job that have lines; read only where a form asks."""
        return lined_items(self.job_id) if self.job_id else []

    def of(
        self, kinds: tuple[MaterialKind, ...], *, with_unit: bool = False
    ) -> list[tuple[str, str] | Group]:
        """Choices of these kinds, under headings where there are several."""
        by_kind = [
            (
                kind,
                [
                    (key, _named(name, unit, own, with_unit))
                    for key, own, name, unit in self.rows
                    if own == kind
                ],
            )
            for kind in kinds
        ]
        if len(by_kind) == 1:
            return list(by_kind[0][1])
        return [(str(kind.label), rows) for kind, rows in by_kind if rows]


def _named(name: str, unit: str, kind: str, with_unit: bool) -> str:
    """A name with its unit; of what is cut, one is a whole length whatever it is measured in."""
    return f"{name} ({unit})" if with_unit and unit and kind not in CUT_AS else name


class TakeoffForm(forms.Form):
    """A form whose materials come off the shelf; names and numbers take no more room than they need."""

    def __init__(self, *args: Any, shelf: Shelf, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            if isinstance(field, MaterialChoice | LinesChoice):
                field.offer(shelf)
            elif isinstance(field, forms.IntegerField):
                field.widget.attrs["class"] = "figure"
