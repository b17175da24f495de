"""With which pen and letters is a cutting drawing drawn, where no style sheet reaches into it?

Style sheets do not reach into a drawing in a PDF, so its looks stand on it as attributes, in black. On a page
the style sheet goes before them.
"""

from __future__ import annotations

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

register = template.Library()

PENS = {
    "outline": ("none", "#000", 16),
    "part": ("none", "#000", 9),
    "keep": ("none", "#000", 9),
    "left": ("none", "#000", 5),
    "trim": ("none", "#000", 5),
    "kerf": ("#000", "none", 0),
    "plate": ("#fff", "none", 0),
    "number": ("#fff", "#000", 6),
    "hatch": ("none", "#555", 4),
    "dimension": ("none", "#000", 5),
}
LETTERS = {"mark": (150, 600), "figure": (110, 400), "cut": (95, 400)}


@register.filter
def pen(kind: str) -> SafeString:
    """The attributes of a box or a line."""
    fill, stroke, width = PENS[kind]
    return format_html('class="{}" fill="{}" stroke="{}" stroke-width="{}"', kind, fill, stroke, width)


@register.filter
def letters(kind: str) -> SafeString:
    """The attributes of a word."""
    size, weight = LETTERS[kind]
    return format_html(
        'class="{}" font-family="Source Sans 3" font-size="{}" font-weight="{}" text-anchor="middle"',
        kind, size, weight,
    )  # fmt: skip
