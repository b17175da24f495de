"""What the choices of a take-off are called on the page."""

from __future__ import annotations

from materials.takeoff.cladding import Direction
from materials.takeoff.courses import Start
from materials.takeoff.end_joints import EndJoint
from materials.takeoff.lining import Landing
from materials.takeoff.result import Grain, Unit
from materials.takeoff.setting_out import Spacing
from materials.takeoff.shapes import AreaRule
from materials.takeoff.trim import End, Taken

BOARDS_RUN = {Direction.LEVEL: "level", Direction.UPRIGHT: "upright"}
SHEETS_RUN = {Direction.UPRIGHT: "upright", Direction.LEVEL: "level"}
STARTS = {
    Start.FIRST_EDGE: "a whole board at the bottom, or left",
    Start.LAST_EDGE: "a whole board at the top, or right",
    Start.BOARD_CENTRED: "a board on the centre line",
    Start.JOINT_CENTRED: "a joint on the centre line",
}
END_JOINTS = {EndJoint.BUTT: "butt", EndJoint.SCARF: "scarf"}
LANDINGS = {
    Landing.ANYWHERE: "anywhere, panels equal",
    Landing.BATTEN: "on a batten",
    Landing.GROOVE: "on a groove",
    Landing.HIDDEN: "where a later fitting hides it",
}
GRAINS = {
    Grain.ANY: "either way",
    Grain.ALONG_LENGTH: "along the length",
    Grain.ALONG_WIDTH: "along the width",
}
ENDS = {End.SQUARE: "square", End.MITRE: "mitre", End.SCRIBE: "scribe"}
TAKEN = {Taken.LONG_POINT: "over the long points", Taken.SHORT_POINT: "between the short points"}
SPACINGS = {
    Spacing.EQUAL_GAPS: "equal gaps, ends included",
    Spacing.HALF_ENDS: "equal centres, half a gap at each end",
}
AREA_RULES = {AreaRule.TRAPEZOIDAL: "trapezoidal rule", AreaRule.SIMPSON: "Simpson's rule"}
UNITS = {Unit.EACH: "each", Unit.METRE: "m", Unit.SQUARE_METRE: "m²", Unit.LITRE: "litre"}
