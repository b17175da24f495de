"""A pair of alcove bookcases, finished: what was quoted beside what it took."""

from __future__ import annotations

from datetime import date, timedelta

from jobs.enums import Caution, Grade, JobState
from jobs.services.clients import add_client
from materials.takeoff.finishes import Finish, Surface
from materials.takeoff.result import Grain
from materials.takeoff.sheets import Part, SheetParts
from materials.takeoff.trim import End, Run, Trim
from quotes.demo.story import Bought, Labour, Story, begin, material, working_days
from quotes.demo.workshop import Team
from quotes.enums import LineKind

LINES: list[Labour | Bought] = [
    Labour("carcass", "Carcasses, cut, edged and assembled", "2", "each", "9"),
    Labour("front", "Face frames and four doors", "2", "each", "7.5"),
    Labour("fitting", "Scribed to wall, floor and picture rail", "11", "m", "0.6"),
    Labour("fitting", "Painted, two coats over primer", "19", "m²", "0.45"),
    Bought("fitting", LineKind.TRAVEL, "To the house and back", "3", "trip", "11"),
]


def tell(team: Team, today: date) -> Story:
    """The whole story; it ended some weeks ago."""
    start = today - timedelta(days=today.weekday() + 91)
    story = _job(team, start)
    _measure(story)
    quote = story.quote(LINES)
    story.issue_and_agree(
        quote, issued=start - timedelta(days=17), agreed=start - timedelta(days=10), by="Theo Lanyard"
    )
    story.invoice(0, start - timedelta(days=9), paid=start - timedelta(days=3))
    story.move(start, JobState.WON, JobState.BENCH)
    days = working_days(start, 12)
    story.hours(team.owner, "carcass", {days[0]: "7", days[1]: "6.5", days[2]: "2.25"})
    story.hours(team.maker, "front", {days[2]: "4", days[3]: "7.5", days[4]: "3"})
    story.hours(
        team.owner, "fitting", {days[5]: "7.5", days[6]: "8", days[7]: "4.5"}, note="wall out of plumb"
    )
    story.spend("carcass", days[0], "311.20", "Ousel Bridge Boards", "Moisture-resistant MDF and hardboard")
    story.spend("front", days[2], "74.30", "Thornbeck Timber Yard", "Planed softwood")
    story.spend("fitting", days[6], "92.85", "Larkholm Fixings and Finishes", "Primer and eggshell")
    story.done(days[2], carcass=100)
    story.done(days[4], front=100)
    story.done(days[7], fitting=100)
    story.invoice(1, days[2], paid=days[7])
    story.move(days[8], JobState.HANDED_OVER)
    story.invoice(2, days[8], paid=days[11])
    story.move(days[11], JobState.CLOSED)
    return story


def _job(team: Team, start: date) -> Story:
    client = add_client(
        person=team.owner,
        details={
            "name": "Theo Lanyard",
            "email": "theo@lanyard.example",
            "phone": "01632 960 590",
            "address": "14 Teasel Row\nMidwinter Barton\nMB4 1EH",
        },
    )
    phases = [
        ("carcass", "Carcasses", Grade.PAINTED, 2, [Caution.DUST]),
        ("front", "Face frames and doors", Grade.PAINTED, 2, [Caution.DUST]),
        ("fitting", "Fitting, scribing and paint", Grade.SEEN, 3, [Caution.STRUCTURE]),
    ]
    return begin(
        team.owner,
        client,
        phases,
        day=start - timedelta(days=25),
        title="Pair of alcove bookcases",
        fitted_out="two alcoves beside a chimney breast",
        site="14 Teasel Row, front room",
        starts_on=start,
        ends_on=start + timedelta(days=12),
    )


def _measure(story: Story) -> None:
    parts = (
        Part("Upright", 21400, 3000, 4, Grain.ANY),
        Part("Cupboard side", 8000, 4500, 4),
        Part("Cupboard top and bottom", 10850, 4500, 4, scribe_mm10=200),
        Part("Shelf", 10800, 2900, 10),
    )
    story.take_off("carcass", "sheet_parts", "Carcasses", SheetParts(material("S-040"), parts))
    story.take_off(
        "carcass", "sheet_parts", "Backs", SheetParts(material("S-041"), (Part("Back", 21400, 10900, 2),))
    )
    story.take_off(
        "front",
        "trim_run",
        "Face frames",
        Trim(
            material("B-012"),
            (Run("stile", 24000, 4), Run("rail", 10200, 6), Run("mullion", 7000, 2, End.SQUARE, End.SQUARE)),
        ),
    )
    story.take_off(
        "fitting",
        "finish",
        "Eggshell",
        Finish(material("Q-002"), (Surface("both bookcases", 24000, 11000, 4),), coats=2),
    )
