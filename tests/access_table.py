"""Who may open what: one row for every address of the project. A new address without a row fails the test.

`who` names the roles let in: o owner, m maker, b bookkeeper; `*` is everybody, also without log-in;
`own` is whose thing it is, and nobody else is told that it is there; `token` asks for a token instead of a
log-in.
`args` picks the address's arguments out of the world that the test has made.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests import make


@dataclass(frozen=True)
class World:
    """One of each thing an address can name."""

    job: Any = field(default_factory=make.job)
    phase: Any = field(default_factory=make.phase)
    busy_phase: Any = field(default_factory=lambda: make.budget().phase)
    client: Any = field(default_factory=make.client)
    entry: Any = field(default_factory=lambda: make.hours(person=make.the_maker()))
    cost: Any = field(default_factory=lambda: make.cost(person=make.the_maker()))
    photo: Any = field(default_factory=make.shared_photo)
    tax_rate: Any = field(default_factory=make.tax_rate)
    labour_rate: Any = field(default_factory=make.labour_rate)
    person: Any = field(default_factory=make.person)
    phase_list: Any = field(default_factory=make.phase_list)
    material: Any = field(default_factory=make.material)
    plan: Any = field(default_factory=make.plan)
    takeoff: Any = field(default_factory=make.takeoff)
    sawn: Any = field(default_factory=make.sawn)
    price: Any = field(default_factory=make.price)
    price_list: Any = field(default_factory=make.price_list)
    stock_item: Any = field(default_factory=make.stock_item)
    order: Any = field(default_factory=make.order)
    sign_in: Any = field(default_factory=make.sign_in)
    token: Any = field(default_factory=make.token)
    quote: Any = field(default_factory=lambda: make.quote_line().quote)
    line: Any = field(default_factory=make.quote_line)
    change: Any = field(default_factory=make.change)

    @property
    def delivery(self) -> Any:
        return make.delivery(person=make.the_maker())

    @property
    def invoice(self) -> Any:
        return make.invoice()

    @property
    def answered(self) -> Any:
        return make.answer().quote

    @property
    def link_token(self) -> str:
        return make.link_to(make.answer().quote)

    @property
    def picture_token(self) -> str:
        change = make.change_with_picture(shows_photo=True)
        job = make.phase(job=change.job).job
        return make.link_to(make.issued_quote(job=job, change=change))


Arguments = Callable[[World], list[Any]]


@dataclass(frozen=True)
class Row:
    name: str
    who: str
    args: Arguments = lambda world: []
    once: bool = False  # what it names is gone after one use


ROWS = [
    Row("api:openapi-json", "*"),
    Row("api:api-root", "token"),
    Row("api:jobs", "token"),
    Row("api:phases", "token", lambda w: [w.job.pk]),
    Row("api:job_hours", "token", lambda w: [w.job.pk]),
    Row("api:hours", "token"),
    Row("api:costs", "token"),
    Row("health", "*"),
    Row("login", "*"),
    Row("log-in-code", "*"),
    Row("logout", "*"),
    Row("choose-password", "*", lambda w: ["no-such-link"]),
    Row("jobs:account", "omb"),
    Row("jobs:change-password", "omb"),
    Row("jobs:end-log-in", "own", lambda w: [w.sign_in.pk]),
    Row("jobs:end-other-log-ins", "omb"),
    Row("jobs:tokens", "o"),
    Row("jobs:token-end", "own", lambda w: [w.token.pk]),
    Row("jobs:second-factor", "omb"),
    Row("jobs:second-factor-off", "omb"),
    Row("jobs:list", "omb"),
    Row("jobs:detail", "omb", lambda w: [w.job.pk]),
    Row("jobs:add", "o"),
    Row("jobs:portfolio", "ob"),
    Row("jobs:learnt", "omb"),
    Row("jobs:look-back", "omb", lambda w: [w.job.pk]),
    Row("jobs:edit", "o", lambda w: [w.job.pk]),
    Row("jobs:move", "o", lambda w: [w.job.pk]),
    Row("jobs:archive", "o", lambda w: [w.job.pk]),
    Row("jobs:progress", "omb", lambda w: [w.job.pk]),
    Row("jobs:progress-file", "omb", lambda w: [w.job.pk, "csv"]),
    Row("jobs:phases", "om", lambda w: [w.job.pk]),
    Row("jobs:phase-add", "om", lambda w: [w.job.pk]),
    Row("jobs:done", "om", lambda w: [w.job.pk]),
    Row("jobs:phase", "omb", lambda w: [w.phase.pk]),
    Row("jobs:phase-edit", "om", lambda w: [w.phase.pk]),
    Row("jobs:phase-move", "om", lambda w: [w.phase.pk]),
    Row("jobs:phase-take-out", "om", lambda w: [w.busy_phase.pk]),
    Row("jobs:clients", "omb"),
    Row("jobs:client", "omb", lambda w: [w.client.pk]),
    Row("jobs:client-add", "ob"),
    Row("jobs:client-edit", "ob", lambda w: [w.client.pk]),
    Row("jobs:client-archive", "ob", lambda w: [w.client.pk]),
    Row("jobs:workshop", "o"),
    Row("jobs:workshop-edit", "o", lambda w: ["letterhead"]),
    Row("jobs:tax-rate-add", "o"),
    Row("jobs:tax-rate", "o", lambda w: [w.tax_rate.pk]),
    Row("jobs:labour-rate-add", "o"),
    Row("jobs:labour-rate", "o", lambda w: [w.labour_rate.pk]),
    Row("jobs:person-add", "o"),
    Row("jobs:person", "o", lambda w: [w.person.pk]),
    Row("jobs:person-edit", "o", lambda w: [w.person.pk]),
    Row("jobs:person-rate-add", "o", lambda w: [w.person.pk]),
    Row("jobs:person-link", "o", lambda w: [w.person.pk]),
    Row("jobs:phase-list-add", "o"),
    Row("jobs:phase-list", "o", lambda w: [w.phase_list.pk]),
    Row("jobs:phase-list-take-out", "o", lambda w: [w.phase_list.pk]),
    Row("jobs:calendar-renew", "o"),
    Row("jobs:calendar", "*", lambda w: [make.calendar()]),
    Row("jobs:logo", "omb", lambda w: make.logo()),
    Row("jobs:phase-list-of-job", "o", lambda w: [w.job.pk]),
    Row("jobs:find", "omb"),
    Row("jobs:history", "omb", lambda w: ["job", w.job.pk]),
    Row("jobs:bench", "omb"),
    Row("jobs:bench-start", "omb"),
    Row("jobs:bench-switch", "omb"),
    Row("jobs:bench-stop", "omb"),
    Row("jobs:bench-hours", "omb"),
    Row("jobs:bench-cost", "omb"),
    Row("jobs:bench-note", "omb"),
    Row("jobs:bench-queue", "omb"),
    Row("jobs:photo", "omb", lambda w: [w.photo.sha256]),
    Row("jobs:sheets", "omb"),
    Row("jobs:sheets-file", "omb", lambda w: ["2026-W23", "csv"]),
    Row("jobs:sheet", "omb", lambda w: [w.entry.person_id, "2026-W23"]),
    Row("jobs:sheet-approve", "o", lambda w: [w.entry.person_id, "2026-W23"]),
    Row("jobs:sheet-lock", "o", lambda w: [w.entry.person_id, "2026-W23"]),
    Row("jobs:sheet-open", "o", lambda w: [w.entry.person_id, "2026-W23"]),
    Row("jobs:entry-correct", "om", lambda w: [w.entry.pk]),
    Row("jobs:entry-end", "o", lambda w: [w.entry.pk]),
    Row("jobs:entry-void", "om", lambda w: [w.entry.pk]),
    Row("jobs:costs", "omb", lambda w: [w.job.pk]),
    Row("jobs:costs-file", "omb", lambda w: [w.job.pk, "csv"]),
    Row("jobs:cost-reverse", "omb", lambda w: [w.cost.pk]),
    Row("jobs:manifest", "*"),
    Row("jobs:worker", "*"),
    Row("materials:list", "omb"),
    Row("materials:material", "omb", lambda w: [w.material.pk]),
    Row("materials:kinds", "o"),
    Row("materials:new", "o", lambda w: ["board"]),
    Row("materials:edit", "o", lambda w: [w.material.pk]),
    Row("materials:archive", "o", lambda w: [w.material.pk]),
    Row("materials:bring-back", "o", lambda w: [w.material.pk]),
    Row("materials:size-add", "o", lambda w: [w.material.pk]),
    Row("materials:price-add", "o", lambda w: [w.material.pk]),
    Row("materials:size-archive", "o", lambda w: [w.price.size.pk]),
    Row("materials:size-bring-back", "o", lambda w: [w.price.size.pk]),
    Row("materials:price-remove", "o", lambda w: [w.price.pk]),
    Row("materials:suppliers", "omb"),
    Row("materials:supplier-new", "o"),
    Row("materials:supplier", "o", lambda w: [w.price.supplier.pk]),
    Row("materials:supplier-archive", "o", lambda w: [w.price.supplier.pk]),
    Row("materials:supplier-bring-back", "o", lambda w: [w.price.supplier.pk]),
    Row("materials:price-list-new", "o"),
    Row("materials:price-list", "o", lambda w: [w.price_list.pk]),
    Row("materials:price-list-match", "o", lambda w: [w.price_list.pk]),
    Row("materials:price-list-write", "o", lambda w: [w.price_list.pk]),
    Row("materials:price-list-discard", "o", lambda w: [w.price_list.pk]),
    Row("materials:plans", "omb", lambda w: [w.job.pk]),
    Row("materials:plan-make", "om", lambda w: [w.job.pk]),
    Row("materials:plan", "omb", lambda w: [w.plan.pk]),
    Row("materials:plans-cut-sheet", "omb", lambda w: [w.job.pk]),
    Row("materials:plans-labels", "omb", lambda w: [w.job.pk]),
    Row("materials:plan-cut-sheet", "omb", lambda w: [w.plan.pk]),
    Row("materials:plan-labels", "omb", lambda w: [w.plan.pk]),
    Row("materials:plan-again", "om", lambda w: [w.plan.pk]),
    Row("materials:plan-cut", "om", lambda w: [w.plan.pk]),
    Row("materials:plan-uncut", "om", lambda w: [w.sawn.pk]),
    Row("materials:plan-stop", "om", lambda w: [w.plan.pk]),
    Row("materials:purchase", "ob", lambda w: [w.job.pk]),
    Row("materials:order-draft", "o", lambda w: [w.job.pk]),
    Row("materials:orders", "omb"),
    Row("materials:order", "omb", lambda w: [w.order.pk]),
    Row("materials:order-change", "o", lambda w: [w.order.pk]),
    Row("materials:order-add-line", "o", lambda w: [w.order.pk]),
    Row("materials:order-place", "o", lambda w: [w.order.pk]),
    Row("materials:order-cancel", "o", lambda w: [w.order.pk]),
    Row("materials:order-paper", "ob", lambda w: [w.order.pk]),
    Row("materials:delivery-take-back", "omb", lambda w: [w.delivery.pk]),
    Row("materials:order-receive", "om", lambda w: [w.order.pk]),
    Row("materials:receipt", "o", lambda w: [w.cost.pk]),
    Row("materials:stock", "omb"),
    Row("materials:stock-add", "om"),
    Row("materials:stock-item", "omb", lambda w: [w.stock_item.pk]),
    Row("materials:stock-take", "om", lambda w: [w.stock_item.pk]),
    Row("materials:stock-count", "om", lambda w: [w.stock_item.pk]),
    Row("materials:stock-change", "om", lambda w: [w.stock_item.pk]),
    Row("materials:stock-label", "omb", lambda w: [w.stock_item.pk]),
    Row("materials:stock-back", "om", lambda w: [w.stock_item.moves.first().pk]),
    Row("materials:price-list-csv", "ob"),
    Row("materials:price-list-xlsx", "ob"),
    Row("quotes:of_job", "ob", lambda w: [w.job.pk]),
    Row("quotes:start", "o", lambda w: [w.job.pk]),
    Row("quotes:cancel_contract", "o", lambda w: [w.job.pk]),
    Row("quotes:desk", "ob", lambda w: [w.quote.pk]),
    Row("quotes:add_line", "o", lambda w: [w.quote.pk, w.quote.job.phases.first().pk, "labour"]),
    Row("quotes:line", "o", lambda w: [w.line.pk]),
    Row("quotes:remove_line", "o", lambda w: [make.quote_line().pk]),
    Row("quotes:rules", "o", lambda w: [w.quote.pk]),
    Row("quotes:words", "o", lambda w: [w.quote.pk]),
    Row("quotes:bring_in", "o", lambda w: [w.quote.pk]),
    Row("quotes:bring_in_hours", "o", lambda w: [w.quote.pk]),
    Row("quotes:offer_ways", "o", lambda w: [w.takeoff.pk]),
    Row("quotes:change_to_way", "o", lambda w: [w.takeoff.pk, 1]),
    Row("quotes:letters", "ob"),
    Row("quotes:invoices_of_job", "ob", lambda w: [w.job.pk]),
    Row("quotes:draft_stage", "ob", lambda w: [w.job.pk, 0]),
    Row("quotes:draft_progress", "ob", lambda w: [w.job.pk]),
    Row("quotes:draft_rest", "ob", lambda w: [w.job.pk]),
    Row("quotes:invoice", "ob", lambda w: [w.invoice.pk]),
    Row("quotes:issue_invoice", "ob", lambda w: [w.invoice.pk]),
    Row("quotes:remove_invoice", "ob", lambda w: [w.invoice.pk], once=True),
    Row("quotes:pay", "ob", lambda w: [w.invoice.pk]),
    Row("quotes:take_payment_back", "ob", lambda w: [make.payment().pk]),
    Row("quotes:credit", "ob", lambda w: [w.invoice.pk]),
    Row("quotes:send_invoice", "ob", lambda w: [w.invoice.pk]),
    Row("quotes:invoice_paper", "ob", lambda w: [w.invoice.pk]),
    Row("quotes:invoice_xml", "ob", lambda w: [w.invoice.pk]),
    Row("quotes:overdue", "ob"),
    Row("quotes:statement", "ob", lambda w: [w.client.pk]),
    Row("quotes:statement_paper", "ob", lambda w: [w.client.pk]),
    Row("quotes:accounts", "ob"),
    Row("quotes:send_again", "o", lambda w: [make.letter().pk]),
    Row("quotes:sheet", "ob", lambda w: [w.quote.pk]),
    Row("quotes:paper", "ob", lambda w: [w.quote.pk]),
    Row("quotes:evidence", "ob", lambda w: [w.answered.pk]),
    Row("quotes:compare", "ob", lambda w: [w.quote.pk]),
    Row("quotes:issue", "o", lambda w: [w.quote.pk]),
    Row("quotes:send", "o", lambda w: [w.quote.pk]),
    Row("quotes:make_link", "o", lambda w: [w.quote.pk]),
    Row("quotes:withdraw_links", "o", lambda w: [w.quote.pk]),
    Row("quotes:revise", "o", lambda w: [w.quote.pk]),
    Row("quotes:extend", "o", lambda w: [w.quote.pk]),
    Row("quotes:withdraw", "o", lambda w: [w.quote.pk]),
    Row("quotes:show_progress", "o", lambda w: [w.answered.pk]),
    Row("quotes:record_answer", "o", lambda w: [w.quote.pk]),
    Row("quotes:answer_question", "o", lambda w: [w.quote.pk]),
    Row("quotes:raise_change", "om", lambda w: [w.job.pk]),
    Row("quotes:change", "omb", lambda w: [w.change.pk]),
    Row("quotes:change_picture", "omb", lambda w: [make.change_with_picture().pk]),
    Row("quotes:set_change_picture", "om", lambda w: [w.change.pk]),
    Row("quotes:price_change", "o", lambda w: [w.change.pk]),
    Row("quotes:withdraw_change", "om", lambda w: [w.change.pk]),
    Row("quotes:omit", "o", lambda w: [w.quote.pk]),
    Row("quotes:link", "*", lambda w: [w.link_token]),
    Row("quotes:link_paper", "*", lambda w: [w.link_token]),
    Row("quotes:link_picture", "*", lambda w: [w.picture_token]),
    Row("quotes:link_evidence", "*", lambda w: [w.link_token]),
    Row("quotes:link_accept", "*", lambda w: [w.link_token]),
    Row("quotes:link_decline", "*", lambda w: [w.link_token]),
    Row("quotes:link_ask", "*", lambda w: [w.link_token]),
    Row("quotes:later", "*", lambda w: [w.link_token, 1]),
    Row("quotes:later_paper", "*", lambda w: [w.link_token, 1]),
    Row("quotes:later_picture", "*", lambda w: [w.picture_token, 1]),
    Row("quotes:later_evidence", "*", lambda w: [w.link_token, 1]),
    Row("quotes:later_accept", "*", lambda w: [w.link_token, 1]),
    Row("quotes:later_decline", "*", lambda w: [w.link_token, 1]),
    Row("quotes:later_ask", "*", lambda w: [w.link_token, 1]),
    Row("materials:takeoff", "omb", lambda w: [w.job.pk]),
    Row("materials:mass", "omb", lambda w: [w.job.pk]),
    Row("materials:supports", "om", lambda w: [w.job.pk]),
    Row("materials:phase-takeoff", "omb", lambda w: [w.phase.pk]),
    Row("materials:takeoff-new", "om", lambda w: [w.phase.pk, "cladding"]),
    Row("materials:takeoff-compute", "om", lambda w: [w.phase.pk]),
    Row("materials:takeoff-item", "omb", lambda w: [w.takeoff.pk]),
    Row("materials:takeoff-edit", "om", lambda w: [w.takeoff.pk]),
    Row("materials:takeoff-remove", "om", lambda w: [w.takeoff.pk]),
    Row("materials:takeoff-turn", "om", lambda w: [w.takeoff.pk]),
    Row("materials:takeoff-starts", "omb", lambda w: [w.takeoff.pk]),
    Row("materials:takeoff-start", "om", lambda w: [w.takeoff.pk]),
    Row("materials:takeoff-sheet", "omb", lambda w: [w.takeoff.pk]),
    Row("materials:takeoff-way-new", "om", lambda w: [w.takeoff.pk, "cladding"]),
    Row("materials:takeoff-way", "om", lambda w: [w.takeoff.pk, 0]),
    Row("materials:takeoff-way-take", "om", lambda w: [w.takeoff.pk, 0]),
    Row("materials:takeoff-way-drop", "om", lambda w: [w.takeoff.pk, 0]),
    Row("materials:takeoff-put-back", "om"),
    Row("materials:operation-hours", "o"),
    Row("materials:bending", "omb"),
    Row("materials:movement", "omb"),
]
