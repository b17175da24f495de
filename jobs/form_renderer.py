"""How does a form draw its fields? With the message beside the field and what was typed still there.

A page of measures has some ninety controls, and Django's own widget templates took 40 ms of it. The plain
ones are written out here instead, as those templates write them save for idle line breaks.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.forms.renderers import TemplatesSetting
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString

INPUTS = ("input", "text", "number", "email", "hidden", "date", "time", "password", "checkbox")
OPTION = "django/forms/widgets/select_option.html"


class KerfbookForms(TemplatesSetting):
    """Fields as label, control, hint and message; one template for all rooms."""

    field_template_name = "components/field.html"
    form_template_name = "components/form.html"

    def render(self, template_name: str, context: dict[str, Any], request: Any = None) -> str:
        write = WRITTEN.get(template_name)
        if write is None:
            return SafeString(super().render(template_name, context, request))
        # Every part is escaped where it is written.
        return SafeString(write(context["widget"]))


def _attributes(attrs: Mapping[str, Any]) -> str:
    parts = []
    for name, value in attrs.items():
        if value is True:
            parts.append(f" {conditional_escape(name)}")
        elif value is not False:
            parts.append(f' {conditional_escape(name)}="{_text(value)}"')
    return "".join(parts)


def _text(value: Any) -> str:
    return conditional_escape(value if isinstance(value, str) else str(value))


def _input(widget: Mapping[str, Any]) -> str:
    value = "" if widget["value"] is None else f' value="{_text(widget["value"])}"'
    start = f'<input type="{_text(widget["type"])}" name="{_text(widget["name"])}"'
    return f"{start}{value}{_attributes(widget['attrs'])}>"


def _select(widget: Mapping[str, Any]) -> str:
    parts = [f'<select name="{_text(widget["name"])}"{_attributes(widget["attrs"])}>']
    for heading, options, _ in widget["optgroups"]:
        parts += [f'\n  <optgroup label="{_text(heading)}">'] if heading else []
        parts += [f"\n  {_option(option)}" for option in options]
        parts += ["\n  </optgroup>"] if heading else []
    return f"{''.join(parts)}\n</select>"


def _option(option: Mapping[str, Any]) -> str:
    label = conditional_escape(option["label"])
    return f'<option value="{_text(option["value"])}"{_attributes(option["attrs"])}>{label}</option>'


WRITTEN: dict[str, Callable[[Mapping[str, Any]], str]] = {
    **{f"django/forms/widgets/{name}.html": _input for name in INPUTS},
    "django/forms/widgets/select.html": _select,
}
