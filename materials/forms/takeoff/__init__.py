"""What a maker types for a take-off: one entry a kind, each a form with rows beneath."""

from materials.forms.takeoff.entries import ENTRY_KINDS, entry_kind_of
from materials.forms.takeoff.entry import Entry

__all__ = ["ENTRY_KINDS", "Entry", "entry_kind_of"]
