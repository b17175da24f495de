"""How does a form read a length? As makers write it, with the message beside the field."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.lengths import LengthError, System, format_length, parse_length
from jobs.workshop import current_workshop


class LengthField(forms.Field):
    """A length in the workshop's system, given on as whole tenths of a millimetre; None if left empty."""

    widget = forms.TextInput

    def __init__(self, *, least_mm10: int = 0, most_mm10: int | None = None, **options: Any) -> None:
        super().__init__(**options)
        self.least_mm10, self.most_mm10 = least_mm10, most_mm10

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        return {"class": "figure", "autocomplete": "off", "maxlength": "40"}

    def prepare_value(self, value: Any) -> Any:
        return length_as_typed(value, _system()) if isinstance(value, int) else value

    def to_python(self, value: Any) -> int | None:
        if value in self.empty_values or not str(value).strip():
            return None
        try:
            return parse_length(str(value), _system())
        except LengthError as problem:
            raise ValidationError(str(problem)) from None

    def validate(self, value: int | None) -> None:
        super().validate(value)
        if value is None:
            return
        if value < self.least_mm10:
            raise ValidationError(f"At least {length_as_typed(self.least_mm10, _system())}.")
        if self.most_mm10 is not None and value > self.most_mm10:
            raise ValidationError(f"At most {length_as_typed(self.most_mm10, _system())}.")

    def has_changed(self, initial: Any, data: Any) -> bool:
        return super().has_changed(self.prepare_value(initial), data)


def length_as_typed(length_mm10: int, system: System) -> str:
    """The text that reads back as exactly this length: in inches only where a sixteenth says it exactly."""
    text = format_length(length_mm10, system, unit=False)
    exact = system is System.METRIC or parse_length(text, system) == length_mm10
    return text if exact else format_length(length_mm10)


def _system() -> System:
    return System(current_workshop().measurement)
