"""The cut sheet for the wall of the shop, and a label for each part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.template.loader import render_to_string

from jobs.models import Job, Person
from jobs.paper_pdf import draw_pdf, logo_address
from jobs.workshop import current_workshop
from materials.cutting.uses import uses_of
from materials.enums import PlanKind
from materials.models import CuttingPlan
from materials.queries.plan_read import plan_in
from materials.queries.plan_sheet import MarkedPart, marked_parts, phase_titles, plan_pages

ACROSS = 3
"""Labels side by side on the paper."""


@dataclass(frozen=True)
class PartLabel:
    """What is stuck on one part: its mark and size, what it is for, and what it came from."""

    part: MarkedPart
    material: str
    origin: str


def cut_sheet_pdf(job: Job, rows: Sequence[CuttingPlan], person: Person) -> bytes:
    """Every bar and sheet still to be cut, with drawings, cuts in order and parts; no prices."""
    workshop = current_workshop()
    context = {
        "job": job,
        "pages": plan_pages(job, rows, person),
        "workshop": workshop,
        "letter": workshop,
        "logo": logo_address(),
    }
    return draw_pdf(render_to_string("papers/cut_sheet.html", context))


def labels_pdf(job: Job, rows: Sequence[CuttingPlan]) -> bytes:
    """One label a part, in the order in which the parts come off the saw."""
    phases = phase_titles(job)
    labels: list[PartLabel | None] = [label for row in rows for label in labels_of(row, phases)]
    lines = [(labels[at : at + ACROSS] + [None] * ACROSS)[:ACROSS] for at in range(0, len(labels), ACROSS)]
    context = {"job": job, "rows": lines, "workshop": current_workshop()}
    return draw_pdf(render_to_string("papers/part_labels.html", context))


def labels_of(row: CuttingPlan, phases: dict[str, str]) -> Iterator[PartLabel]:
    """The labels of one plan, bar after bar and sheet after sheet."""
    plan = plan_in(row)
    if plan is None:
        return
    parts, material = marked_parts(row, phases), str(row.material)
    what, number = ("bar" if row.kind == PlanKind.BOARD else "sheet"), 0
    for use in uses_of(plan):
        for _ in range(use.repeat):
            number += 1
            yield from (PartLabel(parts[part], material, f"{what} {number}") for part in use.parts)
