"""A narrowboat galley: measured, planned and quoted; the client has not answered yet."""

from __future__ import annotations

from datetime import date, timedelta

from jobs.enums import Caution, Grade
from jobs.services.clients import add_client
from materials.takeoff.counted import PieceLine, Pieces
from materials.takeoff.finishes import Finish, Surface
from materials.takeoff.result import Grain
from materials.takeoff.sheets import Part, SheetParts
from materials.takeoff.trim import Run, Trim
from quotes.demo.clock import on
from quotes.demo.story import Bought, Labour, Story, begin, material
from quotes.demo.workshop import Team
from quotes.enums import LineKind
from quotes.services.issuing import issue

LINES: list[Labour | Bought] = [
    Labour("units", "Base units, five", "5", "each", "5.5"),
    Labour("units", "Plate rack and spice shelf", "1", "each", "4.5"),
    Labour("worktop", "Oak worktop, scribed to the hull side", "2.9", "m", "3.2"),
    Labour("worktop", "Cut-outs for sink and hob", "2", "each", "1.25"),
    Labour("steps", "Step box with coal drawer", "1", "each", "11"),
    Labour("units", "Oiled plinth drawers in place of plinths", "3", "each", "2.5", optional=True),
    Bought("worktop", LineKind.PRIME_COST_SUM, "Sink and tap, of the client's choice", "1", "sum", "180"),
    Bought(
        "worktop",
        LineKind.SUBCONTRACT,
        "Hob fitted and tested by a registered gas engineer",
        "1",
        "visit",
        "165",
    ),
    Bought("steps", LineKind.TRAVEL, "To the moorings and back", "6", "trip", "14.50"),
]


def tell(team: Team, today: date) -> Story:
    """The story up to today."""
    story = _job(team, today)
    with on(today - timedelta(days=8), 10):
        _measure(story)
    quote = story.quote(LINES)
    with on(today - timedelta(days=5), 16):
        issue(quote=quote, person=team.owner)
    return story


def _job(team: Team, today: date) -> Story:
    client = add_client(
        person=team.owner,
        details={
            "name": "Isolde Marram",
            "email": "isolde@marram.example",
            "phone": "01632 960 377",
            "address": "Narrowboat Teasel\nLong Pound Moorings\nMB2 6LN",
        },
    )
    start = today + timedelta(days=30 - today.weekday())
    phases = [
        ("units", "Base units and rack", Grade.PAINTED, 5, [Caution.DUST]),
        ("worktop", "Oak worktop, sink and hob", Grade.SEEN, 2, [Caution.GAS, Caution.MASS]),
        ("steps", "Step box", Grade.SEEN, 2, [Caution.STRUCTURE]),
    ]
    return begin(
        team.owner,
        client,
        phases,
        day=today - timedelta(days=12),
        title="Narrowboat galley and step box",
        fitted_out="narrowboat Teasel, 57 ft, cabin 1.83 m at the gunwale",
        site="Long Pound Moorings, pontoon C",
        starts_on=start,
    )


def _measure(story: Story) -> None:
    carcass = (
        Part("Side", 7800, 4600, 10, Grain.ALONG_LENGTH, scribe_mm10=150),
        Part("Bottom", 5640, 4600, 5),
        Part("Rail", 5640, 1000, 10, Grain.ALONG_LENGTH),
        Part("Shelf", 5620, 4000, 5),
        Part("Door", 7120, 2960, 10, Grain.ALONG_LENGTH),
    )
    story.take_off("units", "sheet_parts", "Base units", SheetParts(material("S-004"), carcass))
    story.take_off(
        "units", "sheet_parts", "Backs", SheetParts(material("S-001"), (Part("Back", 7600, 5900, 5),))
    )
    story.take_off(
        "units",
        "pieces",
        "Hinges and knobs",
        Pieces(
            (
                PieceLine(material("P-004"), 20),
                PieceLine(material("P-012"), 10),
                PieceLine(material("P-015"), 10),
            )
        ),
    )
    story.take_off(
        "units",
        "finish",
        "Eggshell on the units",
        Finish(
            material("Q-002"),
            (Surface("doors and frames", 7120, 2960, 20), Surface("ends", 7800, 4600, 2)),
            coats=2,
        ),
    )
    story.take_off(
        "worktop", "trim_run", "Worktop staves", Trim(material("B-020"), (Run("stave", 29000, 5),))
    )
    steps = (
        Part("Tread", 6000, 2800, 3, Grain.ALONG_LENGTH),
        Part("Riser", 6000, 2200, 3, Grain.ALONG_LENGTH),
        Part("Cheek", 8400, 6600, 2, Grain.ALONG_LENGTH),
        Part("Coal drawer part", 5200, 2000, 4),
    )
    story.take_off("steps", "sheet_parts", "Step box", SheetParts(material("S-005"), steps))
