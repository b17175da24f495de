"""What is there to plan for a job: each material's problem as it stands now, less what is already cut?"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from jobs.lengths import System
from jobs.models import Job
from jobs.workshop import current_workshop
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock, Trim
from materials.cutting.sold import Sold, sold_as
from materials.cutting.stored import Problem
from materials.cutting.wanted import Cut, Wanted, still_wanted
from materials.enums import CUT_AS, PlanKind
from materials.models import CuttingPlan, Material, SawnStock
from materials.queries.pieces import Demand, demand_of
from materials.queries.stock_to_cut import OnOffer, Source, on_offer
from materials.size_words import size_words

MOST_PLACES = 4


@dataclass(frozen=True)
class SawSettings:
    """How the saw takes its share, and how long the search may go on."""

    kerf_mm10: int = 32
    trim_mm10: int = 0
    least_offcut_mm10: int = 3000
    least_offcut_width_mm10: int = 0
    seconds: int = 10


USUAL: dict[str, SawSettings] = {
    PlanKind.BOARD: SawSettings(),
    PlanKind.SHEET: SawSettings(trim_mm10=50, least_offcut_mm10=4000, least_offcut_width_mm10=2000),
}
"""Common practice: a blade of 3.2 mm; board ends as they come, 5 mm off each edge of a sheet."""


@dataclass(frozen=True)
class Task:
    """One material to plan. `over` is what has been cut and is no longer wanted."""

    material: Material
    kind: PlanKind
    settings: SawSettings
    problem: Problem
    marks: tuple[str, ...]
    sources: tuple[Source, ...]
    sold: tuple[Sold, ...]
    money_places: int
    unpriced: tuple[str, ...] = ()
    over: tuple[Cut, ...] = ()


@dataclass(frozen=True)
class JobTasks:
    """All that a job has to plan, the plans there are, and the demand both come from."""

    demand: Demand
    tasks: Mapping[int, Task]
    plans: Mapping[int, CuttingPlan]


def tasks_of(job: Job, settings: Mapping[int, SawSettings] | None = None) -> JobTasks:
    """Every material that the job cuts, as it would be planned now; eight queries however large the job.

    One that has a plan but is no longer asked for has a task without parts.
    """
    demand = demand_of(job)
    plans = {plan.material_id: plan for plan in plans_of(job)}
    left_over = [plan.material for pk, plan in plans.items() if pk not in demand.pieces]
    materials = [*demand.to_plan(), *left_over]
    offers = on_offer([material.pk for material in materials], job)
    usual = remembered_settings()
    tasks = {}
    for material in materials:
        kind = CUT_AS[material.kind]
        plan = plans.get(material.pk)
        chosen = (settings or {}).get(material.pk) or (settings_of(plan) if plan else usual[kind])
        sawn = plan.sawn.all() if plan else ()
        tasks[material.pk] = _task(
            material, chosen, demand.pieces.get(material.pk, ()), offers[material.pk], sawn
        )
    return JobTasks(demand, tasks, plans)


def plans_of(job: Job) -> Iterable[CuttingPlan]:
    """The plans of a job with what has been sawn of them; two queries."""
    return CuttingPlan.objects.filter(job=job).select_related("material").prefetch_related("sawn")


def settings_of(plan: CuttingPlan) -> SawSettings:
    """The settings that a plan was made with."""
    return SawSettings(
        kerf_mm10=plan.kerf_mm10,
        trim_mm10=plan.trim_mm10,
        least_offcut_mm10=plan.least_offcut_mm10,
        least_offcut_width_mm10=plan.least_offcut_width_mm10,
        seconds=plan.seconds_granted,
    )


def remembered_settings() -> dict[str, SawSettings]:
    """For each kind the settings that the workshop used last, or the usual ones."""
    settings = dict(USUAL)
    newest = CuttingPlan.objects.exclude(started_at=None).order_by("-started_at").only(*_SETTING_FIELDS)[:20]
    for plan in reversed(newest):
        settings[plan.kind] = settings_of(plan)
    return settings


_SETTING_FIELDS = (
    "kind", "kerf_mm10", "trim_mm10", "least_offcut_mm10", "least_offcut_width_mm10", "seconds_granted",
)  # fmt: skip


@dataclass(frozen=True)
class _Offered:
    """Stock with the number of decimal places that its prices need."""

    sources: tuple[Source, ...]
    places: int

    def cost(self, source: Source) -> int:
        """The price of one in the problem's whole numbers."""
        return int(source.price_of_one.scaleb(self.places))


def _task(
    material: Material,
    settings: SawSettings,
    pieces: Sequence[Wanted],
    offer: OnOffer,
    sawn: Collection[SawnStock],
) -> Task:
    wanted, over = still_wanted(pieces, [cut for row in sawn for cut in cut_pieces(row)])
    kind = CUT_AS[material.kind]
    is_sheet = kind == PlanKind.SHEET
    sources = tuple(source for source in offer.sources if bool(source.width_mm10) == is_sheet)
    offered = _Offered(sources, money_places(source.price_of_one for source in sources))
    build = _sheet_problem if is_sheet else _bar_problem
    return Task(
        material=material,
        kind=kind,
        settings=settings,
        problem=build(wanted, offered, settings),
        marks=tuple(piece.mark for piece in wanted),
        sources=sources,
        sold=sold_as([(one.size, one.pack, one.price) for one in sources], [bar.size_id for bar in sawn]),
        money_places=offered.places,
        unpriced=tuple(stock_words(s.length_mm10 or 0, s.width_mm10 or 0) for s in offer.unpriced),
        over=over,
    )


def cut_pieces(row: SawnStock) -> list[Cut]:
    """The pieces that came off a bar or sheet."""
    return [Cut(p["phase"], p["label"], p["length_mm10"], p["width_mm10"], p["quantity"]) for p in row.parts]


def money_places(prices: Iterable[Decimal]) -> int:
    """The fewest decimal places that write all these prices exactly, so that plans count in whole numbers.

    >>> money_places([Decimal("12.50"), Decimal("7.25"), Decimal(3)])
    2
    """
    exponents = (price.normalize().as_tuple().exponent for price in prices)
    return min(MOST_PLACES, max((-e for e in exponents if isinstance(e, int) and e < 0), default=0))


def _bar_problem(wanted: Iterable[Wanted], on_offer: _Offered, settings: SawSettings) -> BarProblem:
    return BarProblem(
        stock=tuple(
            BarStock(
                length_mm10=source.length_mm10,
                cost=on_offer.cost(source),
                quantity=source.quantity,
                label=source.label or stock_words(source.length_mm10),
                key=key_of(source),
            )
            for source in on_offer.sources
        ),
        parts=tuple(BarPart(piece.length_mm10, piece.quantity, piece.label, piece.phase) for piece in wanted),
        kerf_mm10=settings.kerf_mm10,
        trim_mm10=settings.trim_mm10,
        least_offcut_mm10=settings.least_offcut_mm10,
    )


def _sheet_problem(wanted: Iterable[Wanted], on_offer: _Offered, settings: SawSettings) -> SheetProblem:
    """Sheets lie with their length, and so their grain, across the drawing."""
    return SheetProblem(
        stock=tuple(
            SheetStock(
                width_mm10=source.length_mm10,
                height_mm10=source.width_mm10,
                cost=on_offer.cost(source),
                quantity=source.quantity,
                trim=Trim.all_round(settings.trim_mm10),
                label=source.label or stock_words(source.length_mm10, source.width_mm10),
                key=key_of(source),
            )
            for source in on_offer.sources
        ),
        parts=tuple(
            SheetPart(
                width_mm10=piece.length_mm10,
                height_mm10=piece.width_mm10,
                quantity=piece.quantity,
                may_turn=piece.may_turn,
                label=piece.label,
                phase=piece.phase,
                family=piece.family,
            )
            for piece in wanted
        ),
        kerf_mm10=settings.kerf_mm10,
        least_offcut_short_mm10=settings.least_offcut_width_mm10,
        least_offcut_long_mm10=settings.least_offcut_mm10,
    )


def key_of(source: Source) -> str:
    """Names a source in a problem."""
    return f"offcut {source.offcut}" if source.offcut else f"size {source.size}"


def stock_words(length_mm10: int, width_mm10: int = 0) -> str:
    """A size of stock as it is called for: 4800 mm, 2440 × 1220 mm."""
    system = System(current_workshop().measurement)
    return size_words(length_mm10, width_mm10, Decimal(1), unit="each", system=system)


def source_data(source: Source) -> dict[str, Any]:
    """A source as it is kept beside a plan."""
    return {
        "size": source.size,
        "supplier": source.supplier,
        "supplier_name": source.supplier_name,
        "offcut": source.offcut,
        "price": str(source.price),
        "pack": str(source.pack),
    }
