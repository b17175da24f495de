"""A shepherd's hut on the bench: quoted, agreed, changed once, half done, and one phase going over."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from jobs.enums import Caution, CostKind, Grade, JobState
from jobs.services.clients import add_client
from materials.services.loads import place_loads
from materials.takeoff.cladding import Cladding, Direction
from materials.takeoff.counted import PieceLine, Pieces
from materials.takeoff.courses import Start
from materials.takeoff.finishes import Finish, Surface
from materials.takeoff.fixings import Crossing, Fixings
from materials.takeoff.framing import Framing
from materials.takeoff.outline import Opening, Outline
from materials.takeoff.result import Grain
from materials.takeoff.shapes import ArcTop, Rectangle
from materials.takeoff.sheets import Part, SheetParts
from materials.takeoff.trim import End, Run, Trim
from quotes.demo.story import Bought, Labour, Story, begin, material, working_days
from quotes.demo.workshop import Team
from quotes.enums import LineKind
from quotes.services.changes import price_change, raise_change

WINDOW = Opening("window", 14000, 8500, 9000, 7000, 50)
STOVE = Opening("flue plate", 27500, 12000, 3000, 3000, 100)
LONG_WALL = Outline(Rectangle(39600, 19800), (WINDOW,))
STOVE_WALL = Outline(Rectangle(39600, 19800), (WINDOW, STOVE))
END_WALL = Outline(
    ArcTop(chord_mm10=20400, rise_mm10=4200, sides_mm10=19800), (Opening("door", 5700, 0, 8200, 19000, 50),)
)
LINES: list[Labour | Bought] = [
    Labour("battens", "Battens and sheep's wool between them", "26", "m²", "0.35"),
    Labour("lining", "Walls lined in tongue and groove", "22.4", "m²", "0.9"),
    Labour("lining", "Cut round windows, door and flue plate", "4", "each", "0.75"),
    Labour("bunk", "Bunk with three drawers", "1", "each", "26"),
    Labour("bunk", "Fold-down table", "1", "each", "5.5"),
    Labour("trim", "Scotia, architraves and sills", "31", "m", "0.22"),
    Labour("trim", "Oil, two coats", "30", "m²", "0.18"),
    Labour("trim", "Bookshelf over the door", "1", "each", "4", optional=True),
    Bought("battens", LineKind.MATERIAL, "Sheep's wool batts, 50 mm", "24", "m²", "9.40"),
    Bought("trim", LineKind.PROVISIONAL_SUM, "Stove hearth in slate", "1", "sum", "240"),
    Bought("bunk", LineKind.TRAVEL, "Carriage to the field and back", "2", "trip", "38"),
]


def tell(team: Team, today: date) -> Story:
    """The story up to today."""
    start = today - timedelta(days=today.weekday() + 28)
    story = _job(team, start)
    _measure(story)
    quote = story.quote(LINES)
    story.issue_and_agree(
        quote, issued=start - timedelta(days=20), agreed=start - timedelta(days=14), by="Agnes Hollin"
    )
    story.invoice(0, start - timedelta(days=13), paid=start - timedelta(days=8))
    story.move(start, JobState.WON, JobState.BENCH)
    _work(story, team, start, today)
    _changes(story, team, start)
    story.invoice(1, working_days(start, 3)[2])
    return story


def _job(team: Team, start: date) -> Story:
    client = add_client(
        person=team.owner,
        details={
            "name": "Hollin Farm Stays",
            "is_company": True,
            "contact": "Agnes Hollin",
            "email": "agnes@hollinfarm.example",
            "phone": "01632 960 811",
            "address": "Hollin Farm\nUpper Tarn\nMB9 2RA",
        },
    )
    phases = [
        ("battens", "Battens and insulation", Grade.CONCEALED, 2, [Caution.DUST]),
        ("lining", "Wall lining, tongue and groove", Grade.SEEN, 4, [Caution.DUST, Caution.HEIGHTS]),
        ("bunk", "Bunk, drawers and table", Grade.SEEN, 6, [Caution.DUST]),
        ("trim", "Trim, oil and hearth", Grade.SEEN, 3, [Caution.GAS, Caution.MASS]),
    ]
    return begin(
        team.owner,
        client,
        phases,
        day=start - timedelta(days=30),
        title="Shepherd's hut, lining and fit-out",
        fitted_out="shepherd's hut on a steel chassis, 4.0 × 2.1 m",
        site="Top field, Hollin Farm",
        starts_on=start,
        ends_on=start + timedelta(days=45),
        gross_mass_limit_kg=Decimal(2700),
        empty_mass_kg=Decimal(1680),
    )


def _measure(story: Story) -> None:
    board, batten = material("B-001"), material("L-003")
    for side, wall in (("north", LONG_WALL), ("south", STOVE_WALL)):
        story.take_off(
            "battens", "framing", f"Battens, {side} wall", Framing(wall, batten, 4000, frame_openings=True)
        )
        story.take_off(
            "lining",
            "cladding",
            f"{side.capitalize()} wall",
            Cladding(wall, board, start=Start.LAST_EDGE, least_rip_mm10=400, batten_spacing_mm10=4000),
        )
    story.take_off(
        "lining",
        "cladding",
        "Door end",
        Cladding(END_WALL, board, direction=Direction.UPRIGHT, start=Start.BOARD_CENTRED, least_rip_mm10=400),
    )
    story.take_off(
        "lining",
        "fixings",
        "Brads for the walls",
        Fixings(material("F-007"), (Crossing("walls", 40, 11, 2),)),
    )
    _measure_furniture(story)
    _place(story)


def _measure_furniture(story: Story) -> None:
    parts = (
        Part("Bunk side", 19500, 4200, 2, Grain.ALONG_LENGTH),
        Part("Bunk top", 19500, 6900, 1, Grain.ALONG_LENGTH),
        Part("Bulkhead", 6900, 4200, 4),
        Part("Drawer side", 6500, 1800, 6, Grain.ALONG_LENGTH),
        Part("Drawer back and front", 5400, 1800, 6, Grain.ALONG_LENGTH),
        Part("Drawer face", 6100, 2200, 3, Grain.ALONG_LENGTH),
        Part("Table top", 9000, 5000, 1, Grain.ALONG_LENGTH),
    )
    story.take_off("bunk", "sheet_parts", "Bunk and table", SheetParts(material("S-005"), parts))
    story.take_off(
        "bunk",
        "pieces",
        "Runners and catches",
        Pieces(
            (
                PieceLine(material("P-008"), 3),
                PieceLine(material("P-013"), 3),
                PieceLine(material("P-017"), 1),
            )
        ),
    )
    story.take_off(
        "trim",
        "trim_run",
        "Scotia at the eaves",
        Trim(
            material("L-004"),
            (
                Run("long walls", 39600, 2, End.MITRE, End.MITRE),
                Run("end walls", 20400, 2, End.MITRE, End.MITRE),
            ),
        ),
    )
    story.take_off(
        "trim",
        "finish",
        "Oil on the walls",
        Finish(material("Q-003"), (Surface("walls", area_m2=Decimal("22.4")),), coats=2),
    )


def _place(story: Story) -> None:
    """The axles lie 3.1 m apart; the bunk is at the door end, over the front one."""
    ahead = {"battens": 15_500, "lining": 15_500, "bunk": 29_000, "trim": 12_000}
    details = {
        "apart_mm10": 31_000,
        "front_empty_kg": Decimal(790),
        "front_limit_kg": Decimal(1350),
        "rear_empty_kg": Decimal(890),
        "rear_limit_kg": Decimal(1350),
        "ahead_mm10": {str(story.phases[key].pk): place for key, place in ahead.items()},
    }
    place_loads(job=story.job, details=details, version=0, person=story.owner)


def _work(story: Story, team: Team, start: date, today: date) -> None:
    days = working_days(start, 20)
    story.hours(team.maker, "battens", {days[0]: "6.5", days[1]: "4"}, note="battens and wool")
    story.hours(team.owner, "lining", {days[2]: "7", days[3]: "7.5", days[4]: "6"})
    story.hours(team.maker, "lining", {days[5]: "6.5", days[6]: "5"}, note="round the flue plate")
    story.note(
        team.maker,
        "battens",
        days[1],
        "Floor is 12 mm out of level at the stove end; battens are packed to suit.",
    )
    story.note(team.owner, "lining", days[3], "Keep the boards 150 mm off the flue until the shield is in.")
    story.done(days[1], battens=100)
    story.done(days[6], lining=90)
    story.hours(team.owner, "bunk", {days[8]: "3.5", days[9]: "6"})
    story.done(days[9], bunk=30)
    story.spend("battens", days[0], "242.60", "Fellside Insulation", "Sheep's wool, 25 m²")
    story.spend("battens", days[0], "48.96", "Thornbeck Timber Yard", "Counter batten")
    story.spend("lining", days[1], "318.60", "Thornbeck Timber Yard", "Matchboard, 42 boards")
    story.spend("bunk", days[7], "236.40", "Ousel Bridge Boards", "Birch plywood, 3 sheets")
    story.spend("bunk", days[8], "38.00", "", "Carriage to the field", kind=CostKind.TRAVEL)


def _changes(story: Story, team: Team, start: date) -> None:
    days = working_days(start, 20)
    agreed = raise_change(
        job=story.job,
        person=team.owner,
        title="Cupboard under the window",
        reason="Room for wellington boots",
    )
    order = price_change(change=agreed, person=team.owner)
    story.price(
        order,
        [
            Labour("bunk", "Cupboard with two doors", "1", "each", "9"),
            Bought("bunk", LineKind.MATERIAL, "Birch plywood and hinges", "1", "set", "118.40"),
        ],
    )
    story.issue_and_agree(order, issued=days[6], agreed=days[8], by="Agnes Hollin")
    waiting = raise_change(
        job=story.job,
        person=team.maker,
        title="Reading lamp at the bunk",
        reason="Asked for on the telephone; wiring by the client's electrician",
        rough_hours=Decimal(3),
    )
    story.hours(team.maker, "bunk", {days[10]: "1.5"}, note="marked out for the lamp", change=waiting)
