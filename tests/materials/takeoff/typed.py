"""What a browser sends for a take-off: plain fields and rows, as the page lays them out."""

from __future__ import annotations

from typing import Any

NO_ROWS = ("openings", "corners", "stations", "fittings")


def rows(name: str, *made: dict[str, Any], blank: int = 2) -> dict[str, Any]:
    """Rows of a name, and some blank ones after them."""
    sent: dict[str, Any] = {f"{name}-TOTAL_FORMS": len(made) + blank, f"{name}-INITIAL_FORMS": 0}
    for number, row in enumerate(made):
        sent |= {f"{name}-{number}-{field}": value for field, value in row.items()}
    return sent


def cladding(material: Any, act: str = "save", **more: Any) -> dict[str, Any]:
    """A wall of 2400 × 1800 mm clad in boards."""
    sent: dict[str, Any] = {
        "title": "Left wall",
        "act": act,
        "material_key": material.pk,
        "direction": "level",
    }
    sent |= {"start": "first_edge", "end_joint": "butt", "least_rip": "", "stagger": "300"}
    sent |= {"outline-shape": "rectangle", "outline-width": "2.4 m", "outline-height": "1800"}
    sent |= {"outline-area_rule": "trapezoidal"}
    for name in NO_ROWS:
        sent |= rows(name)
    return sent | more


def window(**more: Any) -> dict[str, Any]:
    """A window that fits that wall."""
    return {"name": "Window", "left": "800", "bottom": "600", "width": "600", "height": "500", **more}


def sent_back(entry: Any) -> dict[str, Any]:
    """What a browser would send of an entry exactly as it was shown."""
    sets = [*entry.rows.values(), *(entry.outline.rows.values() if entry.outline else ())]
    forms = [entry.head, entry.form, *([entry.outline.form] if entry.outline else [])]
    forms += [form for rowset in sets for form in [rowset.management_form, *rowset.forms]]
    sent = {}
    for field in (form[name] for form in forms for name in form.fields):
        value = (
            field.field.prepare_value(field.value())
            if hasattr(field.field, "prepare_value")
            else field.value()
        )
        if value is not None and value is not False:
            sent[field.html_name] = "on" if value is True else str(value)
    return sent
