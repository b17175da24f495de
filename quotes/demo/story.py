"""The acts a demo job is told in; each goes through the service that the pages use."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from jobs.enums import Caution, CostKind, Grade, JobState
from jobs.models import Change, Client, Job, LabourRate, Person, Phase, TaxRate
from jobs.services.costs import Spent, log_cost
from jobs.services.hours import Work, log_hours
from jobs.services.jobs import add_job, move_job
from jobs.services.notes import leave_note
from jobs.services.phases import Done, add_phase, mark_done
from materials.models import Material
from materials.services.plans import plan_cutting
from materials.services.takeoff import Entered, add_item
from materials.takeoff.codec import to_json
from quotes.demo.clock import on
from quotes.enums import Answer, LineKind
from quotes.models import Invoice, Quote
from quotes.queries.invoices import owed_of
from quotes.services.bringing_in import bring_in_materials
from quotes.services.deciding import Reply, record_answer_on_paper
from quotes.services.drafting import add_line, start_quote
from quotes.services.invoicing import draft_stage, issue_invoice
from quotes.services.issuing import issue
from quotes.services.payments import receive

GRADE_FACTOR = {Grade.SEEN: "1", Grade.PAINTED: "0.85", Grade.CONCEALED: "0.6"}


@dataclass(frozen=True)
class Labour:
    """Hours of a quote: what, how many, of what unit, and the hours for one."""

    phase: str
    what: str
    quantity: str
    unit: str
    hours_each: str
    optional: bool = False


@dataclass(frozen=True)
class Bought:
    """Something else a quote lists: its kind, what, how many, of what unit, and the cost of one."""

    phase: str
    kind: LineKind
    what: str
    quantity: str
    unit: str
    unit_cost: str
    optional: bool = False


PhaseFacts = tuple[str, str, Grade, int, list[Caution]]


@dataclass
class Story:
    """One demo job as it goes along."""

    owner: Person
    job: Job
    phases: dict[str, Phase] = field(default_factory=dict)

    def take_off(self, phase: str, kind: str, title: str, inputs: object) -> None:
        entered = Entered(kind=kind, title=title, inputs=to_json(inputs))
        add_item(phase=self.phases[phase], entered=entered, person=self.owner)

    def quote(self, lines: Iterable[Labour | Bought]) -> Quote:
        plan_cutting(job=self.job, person=self.owner)
        quote = start_quote(job=self.job, person=self.owner)
        bring_in_materials(quote=quote, person=self.owner)
        self.price(quote, lines)
        return quote

    def price(self, quote: Quote, lines: Iterable[Labour | Bought]) -> None:
        rate, tax = LabourRate.objects.get(name="Joiner"), TaxRate.objects.get(is_default=True).name
        for line in lines:
            phase = self.phases[line.phase]
            shared = {"tax_name": tax, "optional": line.optional, "quantity": Decimal(line.quantity)}
            fields = _labour(line, phase, rate) if isinstance(line, Labour) else _bought(line)
            add_line(quote=quote, phase=phase, person=self.owner, fields=fields | shared)

    def issue_and_agree(self, quote: Quote, *, issued: date, agreed: date, by: str) -> Quote:
        with on(issued, 17):
            issued_quote = issue(quote=quote, person=self.owner)
        with on(agreed, 19):
            assert issued_quote.document is not None
            reply = Reply(name=by, document_sha256=issued_quote.document.sha256)
            record_answer_on_paper(quote=issued_quote, person=self.owner, answer=Answer.ACCEPTED, reply=reply)
        issued_quote.refresh_from_db()
        return issued_quote

    def move(self, day: date, *states: JobState) -> None:
        with on(day, 8):
            for state in states:
                self.job.refresh_from_db()
                if self.job.state != state:
                    move_job(self.job, to=state, person=self.owner)

    def hours(
        self,
        person: Person,
        phase: str,
        days: Mapping[date, str],
        *,
        note: str = "",
        change: Change | None = None,
    ) -> None:
        work = Work(phase=self._fresh(phase), change=change, note=note)
        for day, hours in days.items():
            seconds = int(Decimal(hours) * 3600)
            log_hours(person=person, key=uuid.uuid4(), work=work, on_date=day, seconds=seconds)

    def spend(
        self, phase: str, day: date, net: str, supplier: str, what: str, *, kind: str = CostKind.MATERIAL
    ) -> None:
        amount = Decimal(net)
        spent = Spent(
            net=amount,
            tax=(amount / 5).quantize(Decimal("0.01")),
            on_date=day,
            kind=kind,
            supplier=supplier,
            description=what,
        )
        log_cost(person=self.owner, key=uuid.uuid4(), work=Work(self._fresh(phase)), spent=spent)

    def note(self, person: Person, phase: str, day: date, text: str) -> None:
        with on(day, 16, 40) as now:
            leave_note(person=person, key=uuid.uuid4(), phase=self._fresh(phase), text=text, at=now)

    def done(self, day: date, **percent: int) -> None:
        with on(day, 17):
            for phase, share in percent.items():
                mark_done(self.phases[phase], Done(Decimal(share)), person=self.owner)

    def invoice(self, stage: int, day: date, *, paid: date | None = None) -> None:
        """A payment stage, asked for and perhaps paid."""
        with on(day, 15):
            draft = draft_stage(job=self.job, stage=stage, person=self.owner)
            invoice = issue_invoice(invoice=draft, person=self.owner)
        if paid is not None:
            with on(paid, 10):
                (owed,) = owed_of(Invoice.objects.filter(pk=invoice.pk))
                receive(invoice=invoice, amount=owed.open, on=paid, person=self.owner)

    def _fresh(self, phase: str) -> Phase:
        return Phase.objects.select_related("job").get(pk=self.phases[phase].pk)


def _labour(line: Labour, phase: Phase, rate: LabourRate) -> dict[str, Any]:
    return {
        "kind": LineKind.LABOUR,
        "description": line.what,
        "unit": line.unit,
        "hours_each": Decimal(line.hours_each),
        "grade": phase.grade,
        "grade_factor": Decimal(GRADE_FACTOR[Grade(phase.grade)]),
        "labour_rate": rate,
        "unit_cost": rate.cost_rate,
    }


def _bought(line: Bought) -> dict[str, Any]:
    return {
        "kind": line.kind,
        "description": line.what,
        "unit": line.unit,
        "unit_cost": Decimal(line.unit_cost),
    }


def begin(
    owner: Person,
    client: Client,
    phases: Sequence[PhaseFacts],
    *,
    day: date,
    **details: Any,
) -> Story:
    """A job with its phases, each with a short name for the story, a title, a grade, days and cautions."""
    with on(day):
        job = add_job(person=owner, details={"client": client, **details})
        story = Story(owner, job)
        start = details.get("starts_on") or timezone.localdate()
        for short, title, grade, days, cautions in phases:
            fields = {
                "title": title,
                "grade": grade,
                "planned_start": start,
                "planned_days": days,
                "cautions": cautions,
            }
            story.phases[short] = add_phase(job, person=owner, details=fields)
            start += timedelta(days=days + 2 * (days // 5) + 1)
    return story


def material(code: str) -> str:
    """The key by which a take-off names a material of the catalogue."""
    return str(Material.objects.get(code=code).pk)


def working_days(first: date, count: int) -> list[date]:
    """So many working days from the first on."""
    days: list[date] = []
    day = first
    while len(days) < count:
        if day.weekday() < 5:
            days.append(day)
        day += timedelta(days=1)
    return days
