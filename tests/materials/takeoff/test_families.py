"""Panels whose grooves run on are one family to the cutting plan, and cut from one strip."""

from __future__ import annotations

import pytest

from materials.cutting.panels import solve_panels
from materials.cutting.search import Search
from materials.queries.plan_tasks import tasks_of
from materials.takeoff.lining import Landing, Lining
from materials.takeoff.outline import Outline
from materials.takeoff.shapes import Rectangle
from materials.takeoff.sheets import Part, SheetParts
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")


@pytest.fixture
def sheet(workshop):
    """Sheets of 2440 × 1220 mm at a price."""
    made = make.material(kind="sheet", thickness_mm10=90)
    make.price(size=make.size(material=made, length_mm10=24_400, width_mm10=12_200))
    return made


def problem_of(job, sheet):
    return tasks_of(job).tasks[sheet.pk].problem


def test_each_column_of_a_grooved_wall_is_its_own_family(sheet):
    grooved = {"landing": Landing.GROOVE, "pitch_mm10": 1_000}
    wall = Lining(Outline(Rectangle(20_000, 30_000)), str(sheet.pk), **grooved)
    one = make.takeoff(wall, "lining")
    make.takeoff(wall, "lining", phase=one.phase)
    families = {part.family for part in problem_of(one.phase.job, sheet).parts}
    assert len(families) == 4
    assert "" not in families


def test_drawer_faces_that_run_on_come_out_of_one_strip(sheet):
    faces = Part("Drawer face", 6_000, 2_000, 3, runs_on="drawers")
    item = make.takeoff(SheetParts(str(sheet.pk), (faces, Part("Side", 7_000, 5_000, 4))), "sheet_parts")
    plan = solve_panels(problem_of(item.phase.job, sheet), Search(seconds=0.2))
    places = [
        (sheet_at, place.y_mm10)
        for sheet_at, cut in enumerate(plan.sheets)
        for place in cut.placements
        if plan.problem.parts[place.part].family
    ]
    assert len(places) == 3
    assert len(set(places)) == 1
