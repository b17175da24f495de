"""One plain maker a model, with dull defaults; what matters to a test is written in the test."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from itertools import count
from typing import Any
from uuid import uuid4

from django.utils import timezone

from jobs.models import (
    ApiToken,
    BudgetEntry,
    Change,
    Client,
    CommitmentEntry,
    CostEntry,
    Job,
    LabourRate,
    Note,
    Outbox,
    Person,
    PersonRate,
    Phase,
    PhaseList,
    PhaseListItem,
    Photo,
    SignIn,
    TaxRate,
    TimeEntry,
    Workshop,
)
from jobs.photos import keep_photo, read_picture
from materials.models import (
    CuttingPlan,
    Delivery,
    Material,
    Order,
    OrderLine,
    OrderShare,
    Price,
    PriceList,
    SawnStock,
    StockItem,
    StockSize,
    Supplier,
    Supports,
    TakeoffItem,
)
from materials.services import price_lists, stock
from materials.services import takeoff as takeoff_services
from materials.services.deliveries import Came, Goods, receive
from materials.services.orders import place
from materials.services.plans import plan_cutting
from materials.services.sawing import confirm_cut
from materials.takeoff.cladding import Cladding
from materials.takeoff.codec import to_json
from materials.takeoff.outline import Outline
from materials.takeoff.registry import result_to_json
from materials.takeoff.shapes import Rectangle
from quotes.models import Decision, Invoice, Payment, Quote, QuoteLine
from tests.pictures import picture

_next = count(1)
NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def workshop(**fields: Any) -> Workshop:
    made = Workshop.objects.create(
        **{"pk": 1, "name": "Test Workshop", "tax_number": "GB123456789", **fields}
    )
    TaxRate.objects.create(name="Standard", percent=Decimal(20), from_date=date(2020, 1, 1), is_default=True)
    return made


def person(name: str = "Pat Person", role: str = "maker", rate: int | None = 20, **fields: Any) -> Person:
    at = next(_next)
    made = Person.objects.create_person(email=f"person{at}@example.org", name=name, role=role)
    if rate is not None:
        PersonRate.objects.create(
            person=made, from_date=date(2020, 1, 1), cost_rate=Decimal(rate), charge_rate=Decimal(2 * rate)
        )
    return made


def sign_in(**fields: Any) -> SignIn:
    if "person" not in fields:
        fields["person"] = person()
    return SignIn.objects.create(**{"session_key": f"session{next(_next)}", "at": NOW, **fields})


def token(**fields: Any) -> ApiToken:
    if "person" not in fields:
        fields["person"] = person()
    at = next(_next)
    return ApiToken.objects.create(
        **{"name": f"Script {at}", "token_sha256": f"{at:064d}", "scopes": ["read"], "made_at": NOW, **fields}
    )


def client(**fields: Any) -> Client:
    return Client.objects.create(**{"name": f"Client {next(_next)}", "email": "client@example.org", **fields})


def job(**fields: Any) -> Job:
    at = next(_next)
    if "client" not in fields:
        fields["client"] = client()
    return Job.objects.create(**{"number": f"26-{at:03d}", "title": f"Job {at}", **fields})


def phase(**fields: Any) -> Phase:
    if "job" not in fields:
        fields["job"] = job()
    return Phase.objects.create(**{"title": f"Phase {next(_next)}", **fields})


def change(**fields: Any) -> Change:
    if "job" not in fields:
        fields["job"] = job()
    number = fields["job"].changes.count() + 1  # of its job, as in use: one count for all outgrows the field
    return Change.objects.create(**{"number": number, "title": "A change", **fields})


def hours(**fields: Any) -> TimeEntry:
    """An entry of a job on the bench."""
    if "phase" not in fields:
        fields["phase"] = phase(job=job(state="bench"))
    if "person" not in fields:
        fields["person"] = person()
    return TimeEntry.objects.create(
        **{"on_date": date(2026, 6, 2), "seconds": 3600, "cost_rate": Decimal(20), **fields}
    )


def cost(**fields: Any) -> CostEntry:
    """A cost of a job on the bench."""
    if "phase" not in fields:
        fields["phase"] = phase(job=job(state="bench"))
    if "person" not in fields:
        fields["person"] = person()
    return CostEntry.objects.create(
        **{"on_date": date(2026, 6, 2), "net": Decimal(100), "tax": Decimal(20), **fields}
    )


def note(**fields: Any) -> Note:
    """Words from the bench."""
    if "phase" not in fields:
        fields["phase"] = phase()
    if "person" not in fields:
        fields["person"] = person()
    return Note.objects.create(**{"text": "Out of level", "written_at": NOW, **fields})


def budget(**fields: Any) -> BudgetEntry:
    """Ten hours at 20 and 100 of material, sold for 500."""
    if "phase" not in fields:
        fields["phase"] = phase()
    return BudgetEntry.objects.create(
        **{
            "source": "quote",
            "source_ref": f"Q{next(_next)}",
            "hours": Decimal(10),
            "labour_cost": Decimal(200),
            "material_cost": Decimal(100),
            "price": Decimal(500),
            **fields,
        }
    )


def commitment(**fields: Any) -> CommitmentEntry:
    if "phase" not in fields:
        fields["phase"] = phase()
    return CommitmentEntry.objects.create(
        **{"on_date": date(2026, 6, 2), "order_ref": f"PO{next(_next)}", "net": Decimal(50), **fields}
    )


def phase_list(*titles: str, **fields: Any) -> PhaseList:
    made = PhaseList.objects.create(**{"name": f"List {next(_next)}", **fields})
    for at, title in enumerate(titles):
        PhaseListItem.objects.create(phase_list=made, position=at, title=title, planned_days=at + 1)
    return made


def change_with_picture(**fields: Any) -> Change:
    """A change noted with a picture that the client is not to see, unless the test says so."""
    from quotes.services.changes import raise_change

    plain = {"job": None, "title": "A hatch", "picture": read_picture(picture())}
    said = {**plain, **fields}
    return raise_change(**{**said, "job": said["job"] or job()}, person=person())


def the_maker() -> Person:
    """The standing maker where a test has them, or another."""
    return Person.objects.filter(name="Miles Maker").first() or person()


def shared_photo() -> Photo:
    """A picture with a note, which everybody may see."""
    made = keep_photo(read_picture(picture()), person=person())
    Note.objects.create(
        person=person(), phase=phase(), photo=made, written_at=datetime(2026, 6, 2, tzinfo=UTC)
    )
    return made


def tax_rate(**fields: Any) -> TaxRate:
    return TaxRate.objects.create(
        **{"name": f"Tax {next(_next)}", "percent": Decimal(5), "from_date": date(2020, 1, 1), **fields}
    )


def labour_rate(**fields: Any) -> LabourRate:
    return LabourRate.objects.create(
        **{
            "name": f"Trade {next(_next)}",
            "from_date": date(2020, 1, 1),
            "cost_rate": Decimal(20),
            "charge_rate": Decimal(40),
            **fields,
        }
    )


def calendar() -> str:
    """The workshop's calendar has an address; this is its secret."""
    Workshop.objects.update(calendar_key="a-secret")
    return "a-secret"


def logo() -> list[Any]:
    """The workshop has a logo; its address takes no arguments."""
    Workshop.objects.update(logo=picture(kind="PNG"), logo_type="image/png")
    return []


def supplier(**fields: Any) -> Supplier:
    return Supplier.objects.create(**{"name": f"Supplier {next(_next)}", **fields})


def material(**fields: Any) -> Material:
    at = next(_next)
    return Material.objects.create(**{"code": f"M{at}", "name": f"Material {at}", "kind": "board", **fields})


def size(**fields: Any) -> StockSize:
    if "material" not in fields:
        fields["material"] = material()
    return StockSize.objects.create(**{"length_mm10": 24000, **fields})


def takeoff(inputs: Any = None, kind: str = "cladding", **fields: Any) -> TakeoffItem:
    """An item as the service keeps it: by default a wall of 2400 × 1800 mm in board 112 mm wide."""
    if inputs is None:
        inputs = Cladding(Outline(Rectangle(24_000, 18_000)), str(tongued_board().pk))
    result = takeoff_services.computed(kind, to_json(inputs))
    kept = {"inputs": to_json(inputs), "result": result_to_json(result), "rule_version": result.rule}
    if "phase" not in fields:
        fields["phase"] = phase()
    return TakeoffItem.objects.create(**{"kind": kind, "title": "Wall", "computed_at": NOW, **kept, **fields})


def tongued_board(**fields: Any) -> Material:
    """A tongued board that covers 112 mm, in lengths of 2.4 m."""
    sizes = {"width_mm10": 1190, "thickness_mm10": 120, "cover_width_mm10": 1120}
    made = material(**{**sizes, "density_kg_m3": Decimal(550), "unit": "m", **fields})
    size(material=made)
    return made


def price(amount: str | Decimal = "10.00", **fields: Any) -> Price:
    if "size" not in fields:
        fields["size"] = size()
    if "supplier" not in fields:
        fields["supplier"] = supplier()
    return Price.objects.create(**{"price": Decimal(amount), "from_date": date(2026, 1, 1), **fields})


def price_list(
    text: str = "Code,Name,Kind,Length,Price\nB1,Board,board,2400,4.20", **fields: Any
) -> PriceList:
    """An uploaded list of one line; `text` is CSV."""
    owner = fields.pop("person", None) or person("List Owner", role="owner")
    upload = {"name": "list.csv", "content": text.encode(), "supplier": "Weir Timber", **fields}
    return price_lists.upload(**upload, person=owner)


def quote(**fields: Any) -> Quote:
    """A draft without lines, at cost: no overhead, contingency or markup unless the test says so."""
    if "job" not in fields:
        fields["job"] = phase().job
    plain = {"number": f"Q{next(_next)}", "title": "A quote", "currency": "GBP"}
    return Quote.objects.create(**{**plain, **fields})


def quote_line(cost: str | int = 100, **fields: Any) -> QuoteLine:
    if "quote" not in fields:
        fields["quote"] = quote()
    if "phase" not in fields:
        fields["phase"] = fields["quote"].job.phases.first()
    plain = {"kind": "material", "description": "Board", "unit_cost": Decimal(cost), "tax_name": "Standard"}
    return QuoteLine.objects.create(**{**plain, **fields})


def issued_quote(*costs: int, by: Person | None = None, **fields: Any) -> Quote:
    """A quote issued as the program does it, PDF and all."""
    from quotes.services.issuing import issue

    draft = quote(**fields)
    for cost_of_line in costs or (100,):
        quote_line(cost_of_line, quote=draft)
    return issue(quote=draft, person=by or person(role="owner"))


def link_to(made: Quote) -> str:
    """The token of a fresh link."""
    from quotes.services.links import make_link

    return make_link(quote=made, person=person(role="owner"))


def answer(made: Quote | None = None, says: str = "accepted", **fields: Any) -> Decision:
    """An answer given on a fresh link, as the client gives it."""
    from quotes.queries.client_page import open_link
    from quotes.services.deciding import Reply, accept, decline
    from quotes.services.links import Caller

    asked = made or issued_quote()
    link = open_link(link_to(asked))
    assert link
    assert asked.document
    reply = Reply(**{"name": "Cleo Client", "document_sha256": asked.document.sha256, **fields})
    decide = accept if says == "accepted" else decline
    return decide(link=link, quote=asked, reply=reply, caller=Caller("192.0.2.7", "A browser"))


def taken_off(material: Material, *pieces: tuple[int, ...], **fields: Any) -> TakeoffItem:
    """A take-off item whose result asks for pieces: (length, number) of a board, (length, width, number)."""
    if "phase" not in fields:
        fields["phase"] = phase()
    grain = fields.pop("grain", "any")
    lines = [
        {
            "material_key": str(material.pk),
            "length_mm10": piece[0],
            "width_mm10": piece[1] if len(piece) == 3 else 0,
            "quantity": piece[-1],
            "grain": grain,
            "label": f"part {at}",
        }
        for at, piece in enumerate(pieces, 1)
    ]
    return TakeoffItem.objects.create(
        **{"kind": "pieces", "title": "Shelf", "material": material, "result": {"pieces": lines}, **fields}
    )


def amount_taken_off(material: Material, amount: str, **fields: Any) -> TakeoffItem:
    """A take-off item whose result asks for so much of a material: litres of what is poured, or so many."""
    if "phase" not in fields:
        fields["phase"] = phase()
    unit = fields.pop("unit", "litre" if material.kind == "liquid" else "each")
    line = {"material_key": str(material.pk), "amount": amount, "unit": unit}
    return TakeoffItem.objects.create(
        **{"kind": "fixings", "title": "Screws", "result": {"quantities": [line]}, **fields}
    )


def board(*sizes: tuple[int, str], **fields: Any) -> Material:
    """A board sold in these lengths at these prices."""
    made = material(**fields)
    for length, amount in sizes:
        price(amount, size=size(material=made, length_mm10=length))
    return made


def sheet(*sizes: tuple[int, int, str], **fields: Any) -> Material:
    """A sheet sold in these sizes at these prices."""
    made = material(**{"kind": "sheet", **fields})
    for length, width, amount in sizes:
        price(amount, size=size(material=made, length_mm10=length, width_mm10=width))
    return made


def plan(of: Job | None = None, by: Person | None = None) -> CuttingPlan:
    """Ten shelves of 600 mm from boards of 2.4 m at 10.00: three to a bar beside the kerfs, so four bars."""
    of = of or job()
    shelves = board((24000, "10.00"))
    taken_off(shelves, (6000, 10), phase=phase(job=of))
    return plan_cutting(job=of, person=by or person(), materials=[shelves.pk])[0]


def stock_item(**fields: Any) -> StockItem:
    """A board of 2400 in stock, brought in by somebody."""
    by = fields.pop("person", None) or person("Stock Keeper")
    new = {"material": fields.pop("material", None) or material(), "quantity": Decimal(1), **fields}
    if new["material"].kind == "board":
        new.setdefault("length_mm10", 24000)
    return stock.bring_in(new=stock.NewStock(**new), person=by, key=uuid4())


def sawn(of: CuttingPlan | None = None, index: int = 0, count: int = 1) -> SawnStock:
    """The first bar of a plan, cut."""
    of = of or plan()
    return confirm_cut(plan=of, index=index, count=count, seen=of.better_count, person=person())[0]


def letter(**fields: Any) -> Outbox:
    plain = {
        "key": f"letter {next(_next)}",
        "to": "client@example.org",
        "subject": "A letter",
        "text": "Dear",
    }
    return Outbox.objects.create(**{**plain, **fields})


def order(
    quantity: str = "10", price: str = "4.00", weights: dict[Any, str] | None = None, **fields: Any
) -> Order:
    """A draft of one line, borne by the given phases by weight, or by one phase of a job at the bench."""
    if weights is None:
        weights = {phase(job=fields.get("job") or job(state="bench")): "1"}
    bears = next(iter(weights))
    sold = fields.pop("size", None) or size()
    made = Order.objects.create(
        **{"number": f"P-{next(_next):04d}", "job": bears.job, "supplier": supplier(), **fields}
    )
    line = OrderLine.objects.create(
        order=made,
        material=sold.material,
        size=sold,
        words="Board, 2400 mm",
        quantity=Decimal(quantity),
        price=Decimal(price),
    )
    for one, weight in weights.items():
        OrderShare.objects.create(line=line, phase=one, amount=Decimal(weight))
    return made


def supports(**fields: Any) -> Supports:
    """Two axles three metres apart."""
    if "job" not in fields:
        fields["job"] = job()
    return Supports.objects.create(**{"apart_mm10": 30_000, **fields})


def delivery(of: Order | None = None, person: Person | None = None) -> Delivery:
    """All that was ordered came."""
    by = person or the_maker()
    placed = place(order=of or order(), send=False, person=by)
    came = [Came(line.pk, line.to_come, line.price) for line in placed.lines.all()]
    return receive(order=placed, goods=Goods(came, timezone.localdate()), person=by, key=uuid4())


def contract(*costs: int, stages: tuple[int, ...] = (30, 70), **fields: Any) -> Job:
    """A job whose quote is accepted, with payment stages in per cent."""
    percents = [{"title": f"Stage {at}", "percent": str(share)} for at, share in enumerate(stages, 1)]
    return answer(issued_quote(*costs, payment_stages=percents, **fields)).quote.job


def invoice(job: Job | None = None) -> Invoice:
    """A draft for the first stage of a contract."""
    from quotes.services.invoicing import draft_stage

    return draft_stage(job=job or contract(), stage=0, person=person(role="owner"))


def payment(amount: str | int = 100, **fields: Any) -> Payment:
    """Money that came in on an issued invoice of 360."""
    from quotes.services.invoicing import issue_invoice
    from quotes.services.payments import receive

    owner = person(role="owner")
    of = issue_invoice(invoice=invoice(contract(1000)), person=owner)
    return receive(invoice=of, amount=Decimal(amount), on=date(2026, 3, 2), person=owner, **fields)
