"""Pages of take-off: a job's, a phase's, an item's, its entry, its starts, and the desk calculators."""

from materials.views.takeoff.desk import bending, movement
from materials.views.takeoff.entry import add_takeoff, edit_takeoff
from materials.views.takeoff.hours import operation_hours
from materials.views.takeoff.item import (
    compute_takeoff_again,
    put_back_takeoff,
    remove_takeoff,
    setting_out_sheet,
    takeoff_item,
    turn_takeoff,
)
from materials.views.takeoff.mass import job_mass, job_supports
from materials.views.takeoff.overview import job_takeoff_page, phase_takeoff_page
from materials.views.takeoff.starts import set_start, takeoff_starts
from materials.views.takeoff.ways import drop_way, edit_way, new_way, take_way

__all__ = [
    "add_takeoff",
    "bending",
    "compute_takeoff_again",
    "drop_way",
    "edit_takeoff",
    "edit_way",
    "job_mass",
    "job_supports",
    "job_takeoff_page",
    "movement",
    "new_way",
    "operation_hours",
    "phase_takeoff_page",
    "put_back_takeoff",
    "remove_takeoff",
    "set_start",
    "setting_out_sheet",
    "take_way",
    "takeoff_item",
    "takeoff_starts",
    "turn_takeoff",
]
