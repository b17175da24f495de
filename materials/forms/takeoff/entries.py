"""Which kinds can be typed, in the order that a phase is measured."""

from __future__ import annotations

from collections.abc import Mapping

from django.http import Http404

from materials.forms.takeoff import kinds, rows
from materials.forms.takeoff.entry import EntryKind

ENTRY_KINDS: Mapping[str, EntryKind] = {
    kind.key: kind
    for kind in (
        EntryKind("framing", kinds.FramingFields, (rows.TEMPLATES, rows.PACKINGS), "Battens"),
        EntryKind("cladding", kinds.CladdingFields, (rows.FITTINGS,), "Wall"),
        EntryKind("lining", kinds.LiningFields, (), "Lining"),
        EntryKind("sheet_parts", kinds.SheetPartsFields, (rows.PARTS,), "Cabinet parts"),
        EntryKind("trim_run", kinds.TrimFields, (rows.RUNS,), "Trim"),
        EntryKind("fixings", kinds.FixingsFields, (rows.CROSSINGS, rows.EDGES), "Fixings"),
        EntryKind("finish", kinds.FinishFields, (rows.SURFACES,), "Finish"),
        EntryKind("beads", kinds.BeadsFields, (rows.BEADS,), "Adhesive"),
        EntryKind("pieces", kinds.PiecesFields, (rows.PIECES,), "Fittings"),
        EntryKind("setting_out", kinds.SettingOutFields, (), "Setting out"),
        EntryKind("manual", kinds.ManualFields, (rows.AMOUNTS,), "By hand"),
    )
}


def entry_kind_of(key: str) -> EntryKind:
    """How that kind is typed; no such page for a kind that is not."""
    if key not in ENTRY_KINDS:
        raise Http404("There is no such kind of take-off.")
    return ENTRY_KINDS[key]
