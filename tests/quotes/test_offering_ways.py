"""Other ways to make an item come into a quote as extras, or into a change order, at their difference."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from jobs.models import BudgetEntry, Change
from jobs.refusals import RefusedError
from materials.models import Price, StockSize
from materials.services import ways as way_services
from materials.services.takeoff import Entered
from materials.takeoff.cladding import Cladding
from materials.takeoff.codec import to_json
from materials.takeoff.counted import Manual
from materials.takeoff.outline import Outline
from materials.takeoff.shapes import Rectangle
from quotes.models import Quote, QuoteLine
from quotes.pricing import phase_budgets
from quotes.queries.figures import figures_of
from quotes.services.issuing import issue
from quotes.services.offering_ways import change_to_way, offer_ways
from tests import make

pytestmark = pytest.mark.usefixtures("workshop")

WALL = Outline(Rectangle(24_000, 18_000))


@pytest.fixture
def item(owner):
    """A wall of 17 boards at 10.00 and 3.46 h at 20.00; or 17 thin ones at 4.00; or cloth, put in by hand."""
    make.labour_rate(name="Joiner")
    made = make.takeoff(title="Wall")
    thick, thin = made.inputs["material_key"], make.tongued_board(thickness_mm10=75)
    make.price("10.00", size=StockSize.objects.get(material=thick))
    make.price("4.00", size=StockSize.objects.get(material=thin))
    boards = Entered("cladding", "thin board", to_json(Cladding(WALL, str(thin.pk))))
    cloth = Entered("manual", "cloth", to_json(Manual("covered in cloth", (), Decimal(3))))
    for number, way in enumerate((boards, cloth), start=1):
        made = way_services.add_way(item=made, entered=way, version=number, person=owner)
    return made


def figures(line):
    return line.unit_cost, line.labour_cost, line.hours


def agreed_job(item):
    """The job's quote, issued and agreed."""
    return make.answer(make.issued_quote(100, job=item.phase.job)).quote


def test_each_other_way_is_one_extra_at_its_difference(item, owner):
    offered = offer_ways(item=item, person=owner)
    thin, cloth = offered.quote.lines.all()
    assert thin.description == "Wall: thin board instead of Wall"
    assert (thin.optional, thin.chosen, thin.group) == (True, False, "Wall")
    assert figures(thin) == (Decimal(-102), Decimal(0), Decimal(0))
    assert figures(cloth) == (Decimal("-239.20"), Decimal("-69.20"), Decimal("-3.46"))
    assert thin.mass_kg < 0


def test_the_quote_is_whole_without_them_and_cheaper_with_one(item, owner):
    quote = make.quote(job=item.phase.job)
    make.quote_line(1000, quote=quote)
    offer_ways(item=item, person=owner)
    cloth = quote.lines.get(source_ref__endswith=":cloth")
    today = quote.created_at.date()
    assert figures_of(quote, on=today).priced.totals.without_tax == 1000
    chosen = figures_of(quote, on=today, chosen=[str(cloth.pk)]).priced
    assert chosen.totals.without_tax == Decimal("760.80")
    assert phase_budgets(chosen)[0].labour_cost == Decimal("-69.20")


def test_offered_again_lines_keep_their_words_and_a_dropped_way_goes(item, owner):
    offer_ways(item=item, person=owner)
    QuoteLine.objects.filter(source_ref__endswith=":cloth").update(description="In linen", unit_cost=1)
    item.refresh_from_db()
    item = way_services.drop_way(item=item, number=1, version=item.version, person=owner)
    offered = offer_ways(item=item, person=owner)
    line = QuoteLine.objects.get()
    assert (line.description, line.unit_cost) == ("In linen", Decimal("-239.20"))
    assert (offered.count, Quote.objects.count()) == (1, 1)


def test_words_typed_over_leave_hours_and_cost(item, as_owner, owner):
    offer_ways(item=item, person=owner)
    line = QuoteLine.objects.get(source_ref__endswith=":cloth")
    kept = figures(line)
    form = as_owner.get(reverse("quotes:line", args=[line.pk])).context["form"]
    typed = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    as_owner.post(reverse("quotes:line", args=[line.pk]), {**typed, "description": "In linen"})
    line.refresh_from_db()
    assert line.description == "In linen"
    assert figures(line) == kept


def test_an_issued_quote_is_revised_for_them(item, owner):
    issued = make.issued_quote(100, job=item.phase.job)
    offered = offer_ways(item=item, person=owner)
    assert (offered.quote.number, offered.quote.revision) == (issued.number, 2)


def test_once_agreed_a_way_goes_into_a_change_order(item, as_owner, owner):
    agreed_job(item)
    with pytest.raises(RefusedError, match="change order"):
        offer_ways(item=item, person=owner)
    page = as_owner.get(item.get_absolute_url()).content.decode()
    assert "Into a change order" in page
    assert "Offer the other ways" not in page
    for _ in range(2):
        as_owner.post(reverse("quotes:change_to_way", args=[item.pk, 2]))
    line = QuoteLine.objects.get(source="ways")
    assert (Change.objects.count(), line.optional, line.hours) == (1, False, Decimal("-3.46"))
    assert line.quote.is_change_order


def test_agreed_the_change_takes_hours_and_money_out_of_the_budget(item, owner):
    agreed_job(item)
    order = change_to_way(item=item, number=2, person=owner)
    make.answer(issue(quote=order, person=owner))
    entry = BudgetEntry.objects.get(change=order.change)
    assert (entry.hours, entry.labour_cost, entry.material_cost) == (
        Decimal("-3.46"),
        Decimal("-69.20"),
        Decimal("-170.00"),
    )
    assert entry.price == Decimal("-239.20")


def test_before_agreement_and_for_the_way_taken_it_is_refused(item, as_owner, owner):
    with pytest.raises(RefusedError, match="Nothing is agreed yet"):
        change_to_way(item=item, number=1, person=owner)
    with pytest.raises(RefusedError, match="taken already"):
        change_to_way(item=item, number=0, person=owner)
    with pytest.raises(RefusedError, match="only one way"):
        offer_ways(item=make.takeoff(), person=owner)
    as_owner.post(reverse("quotes:change_to_way", args=[item.pk, 9]), follow=True)
    assert not Change.objects.exists()


def test_a_way_without_a_price_is_left_out_and_said(item, as_owner):
    Price.objects.filter(price=Decimal(4)).delete()
    page = as_owner.post(reverse("quotes:offer_ways", args=[item.pk]), follow=True).content.decode()
    assert "no price for" in page
    assert "1 other way to make" in page
    assert as_owner.get(reverse("quotes:offer_ways", args=[item.pk])).status_code == 405


def test_prices_stand_beside_the_ways_by_the_rules_of_the_quote(item, as_owner, as_maker):
    make.quote(job=item.phase.job)
    page = as_owner.get(item.get_absolute_url()).content.decode()
    assert "£239.20" in page
    assert "£102.00 under" in page
    assert "£" not in as_maker.get(item.get_absolute_url()).content.decode()


def test_only_another_way_may_be_below_nothing(item):
    with pytest.raises(IntegrityError), transaction.atomic():
        make.quote_line(-1, quote=make.quote(job=item.phase.job))
    make.quote_line(-1, quote=make.quote(job=item.phase.job), source="ways", hours=Decimal(-1))
