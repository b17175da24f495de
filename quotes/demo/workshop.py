"""The demo's workshop: who works there, at which rates, and what they buy."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from django.conf import settings

from jobs.enums import Caution, Grade, Role
from jobs.models import LabourRate, Person, PersonRate, PhaseList, PhaseListItem, Workshop
from jobs.services.setup import NewWorkshop, set_up_workshop

OWNER_EMAIL, PASSWORD = "owner@kerfbook.example", "two-boards-and-a-batten"
MAKER_EMAIL, BOOKS_EMAIL = "maker@kerfbook.example", "books@kerfbook.example"
TERMS = (
    "Prices hold for the time stated and for the work described. What is found behind old lining is priced "
    "as a change before it is touched. Changes are agreed in writing before work on them starts. Material "
    "stays the workshop's until paid for."
)
EXCLUSIONS = """Electrical and gas connections, which a registered engineer makes
Making good of rot, rust or leaks found behind old lining
Ferries, tolls and overnight stays"""


@dataclass(frozen=True)
class Team:
    """Who works in the demo's workshop."""

    owner: Person
    maker: Person
    bookkeeper: Person


def make_workshop(today: date) -> Team:
    """An invented workshop with three people, rates of the trade and two lists of phases."""
    long_ago = today - timedelta(days=400)
    owner = set_up_workshop(
        NewWorkshop("Sallow Lane Fit-out", "Rowan Pell", OWNER_EMAIL, PASSWORD), today=long_ago
    )
    Workshop.objects.filter(pk=1).update(
        address="Unit 3, Sallow Lane\nMidwinter Barton\nMB4 7QX",
        phone="01632 960 143",
        registration_number="00000000",
        tax_number="GB 000 0000 00",
        bank_details="Account name Sallow Lane Fit-out\nSort code 00-00-00, account 00000000",
        overhead_an_hour=Decimal("6.50"),
        quote_terms=TERMS,
        quote_exclusions=EXCLUSIONS,
        round_minutes_to=5,
    )
    maker = _person("Wren Tully", MAKER_EMAIL, Role.MAKER, long_ago, ("19.50", "36"))
    bookkeeper = _person("Sorrel Vane", BOOKS_EMAIL, Role.BOOKKEEPER, long_ago)
    _trade_rates(long_ago)
    _phase_lists()
    return Team(owner, maker, bookkeeper)


def _person(name: str, email: str, role: Role, since: date, rates: tuple[str, str] | None = None) -> Person:
    person = Person.objects.create_person(email=email, name=name, role=role, password=PASSWORD)
    if rates:
        cost, charge = rates
        PersonRate.objects.create(
            person=person, from_date=since, cost_rate=Decimal(cost), charge_rate=Decimal(charge)
        )
    return person


def _trade_rates(since: date) -> None:
    LabourRate.objects.all().delete()
    rates = (("Joiner", "21.00", "38.00"), ("Finisher", "19.00", "34.00"), ("Helper", "14.50", "25.00"))
    for name, cost, charge in rates:
        LabourRate.objects.create(
            name=name, from_date=since, cost_rate=Decimal(cost), charge_rate=Decimal(charge)
        )


PHASE_LISTS: dict[str, list[tuple[str, str, int, list[str]]]] = {
    "Hut or cabin": [
        ("Battens and insulation", Grade.CONCEALED, 2, [Caution.DUST]),
        ("Wall and ceiling lining", Grade.SEEN, 4, [Caution.DUST, Caution.HEIGHTS]),
        ("Fixed furniture", Grade.SEEN, 5, [Caution.DUST]),
        ("Trim and finish", Grade.SEEN, 3, []),
    ],
    "Built-in bookcase": [
        ("Carcasses", Grade.PAINTED, 3, [Caution.DUST]),
        ("Face frames and doors", Grade.PAINTED, 2, [Caution.DUST]),
        ("Fitting and scribing", Grade.SEEN, 2, [Caution.STRUCTURE]),
    ],
}


def _phase_lists() -> None:
    for name, phases in PHASE_LISTS.items():
        kept = PhaseList.objects.create(name=name)
        PhaseListItem.objects.bulk_create(
            PhaseListItem(
                phase_list=kept, position=at, title=title, grade=grade, planned_days=days, cautions=cautions
            )
            for at, (title, grade, days, cautions) in enumerate(phases)
        )


def price_list_path() -> Path:
    """Where the invented price list lies."""
    return Path(settings.BASE_DIR) / "materials" / "demo_price_list.csv"
