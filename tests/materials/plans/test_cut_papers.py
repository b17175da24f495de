"""The cut sheet for the wall and the labels for the parts."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from io import BytesIO

import pytest
from django.template.loader import render_to_string
from django.test import Client as Browser
from django.urls import reverse
from pikepdf import Pdf

from jobs.models import Person, Workshop
from materials.cut_papers import cut_sheet_pdf, labels_of
from materials.models import CuttingPlan
from materials.queries.plan_sheet import phase_titles, plan_page, plans_to_print
from tests import make

pytestmark = pytest.mark.django_db
A_POINT = 25.4 / 72


@pytest.fixture
def plan(owner: Person) -> CuttingPlan:
    return make.plan(by=owner)


def page_sizes_mm(content: bytes) -> list[tuple[int, int]]:
    with Pdf.open(BytesIO(content)) as pdf:
        boxes = [[float(edge) for edge in page.mediabox] for page in pdf.pages]
    return [(round(box[2] * A_POINT), round(box[3] * A_POINT)) for box in boxes]


def test_there_is_a_label_for_every_part_in_the_order_of_the_saw(plan: CuttingPlan) -> None:
    labels = list(labels_of(plan, phase_titles(plan.job)))
    assert len(labels) == 10
    assert {label.part.mark for label in labels} == {"A"}
    by_bar = Counter(label.origin for label in labels)
    assert by_bar == {"bar 1": 3, "bar 2": 3, "bar 3": 3, "bar 4": 1}


@pytest.mark.parametrize(("paper", "size"), [("A4", (210, 297)), ("letter", (216, 279))])
@pytest.mark.parametrize("name", ["plan-cut-sheet", "plan-labels"])
def test_papers_are_of_the_workshop_s_size(
    plan: CuttingPlan, as_maker: Browser, name: str, paper: str, size: tuple[int, int]
) -> None:
    Workshop.objects.update(paper=paper)
    answer = as_maker.get(reverse(f"materials:{name}", args=[plan.pk]))
    assert answer.headers["Content-Type"] == "application/pdf"
    assert page_sizes_mm(answer.content) == [size]


def test_every_material_starts_a_page(plan: CuttingPlan, owner: Person) -> None:
    make.plan(plan.job, by=owner)
    content = cut_sheet_pdf(plan.job, plans_to_print(plan.job), owner)
    assert len(page_sizes_mm(content)) == 2


@pytest.mark.parametrize("name", ["plans-cut-sheet", "plans-labels"])
def test_a_job_without_plans_still_gives_a_paper(as_maker: Browser, name: str) -> None:
    answer = as_maker.get(reverse(f"materials:{name}", args=[make.job().pk]))
    assert len(page_sizes_mm(answer.content)) == 1


def test_what_is_all_cut_is_not_printed(plan: CuttingPlan) -> None:
    make.sawn(plan, count=3)
    make.sawn(CuttingPlan.objects.get())
    assert plans_to_print(plan.job) == []


@pytest.mark.parametrize(("alike", "boxes"), [(1, 1), (6, 6), (12, 12), (13, 0)])
def test_there_is_a_box_to_tick_for_every_bar_up_to_a_dozen(
    plan: CuttingPlan, owner: Person, alike: int, boxes: int
) -> None:
    bar = replace(plan_page(plan, owner).bars[0], repeat=alike)
    page = replace(plan_page(plan, owner), bars=(bar,))
    html = render_to_string("papers/cut_sheet.html", {"job": plan.job, "pages": [page]})
    assert html.count('class="tick"') == boxes
    assert (f"of {alike}</span>" in html) == (alike == 13)
