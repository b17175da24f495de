"""Addresses of the quotes room: a job's quotes, the desk, the client's link."""

from django.urls import path, register_converter

from quotes.forms.lines import FORMS
from quotes.views import accounts, changes, client, contracts, desk, invoices, letters, quotes, ways


class ShapeConverter:
    """The shapes of line that can be added."""

    regex = "|".join(FORMS)

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(ShapeConverter, "shape")

app_name = "quotes"

desk_addresses = [
    path("<int:pk>/", desk.desk, name="desk"),
    path("<int:pk>/add/<int:phase_pk>/<shape:shape>/", desk.add_line, name="add_line"),
    path("lines/<int:pk>/", desk.line, name="line"),
    path("lines/<int:pk>/remove/", desk.remove_line, name="remove_line"),
    path("<int:pk>/rules/", desk.rules, name="rules"),
    path("<int:pk>/words/", desk.words, name="words"),
    path("<int:pk>/bring-in/", desk.bring_in, name="bring_in"),
    path("<int:pk>/bring-in-hours/", desk.bring_in_labour, name="bring_in_hours"),
]

quote_addresses = [
    path("job/<int:job_pk>/", quotes.of_job, name="of_job"),
    path("job/<int:job_pk>/start/", quotes.start, name="start"),
    path("job/<int:job_pk>/cancel/", contracts.cancel, name="cancel_contract"),
    path("<int:pk>/sheet/", quotes.sheet, name="sheet"),
    path("<int:pk>/paper/", quotes.preview, name="paper"),
    path("<int:pk>/evidence/", quotes.evidence, name="evidence"),
    path("<int:pk>/compare/", quotes.compare, name="compare"),
    path("<int:pk>/issue/", quotes.issue, name="issue"),
    path("<int:pk>/send/", quotes.send, name="send"),
    path("<int:pk>/link/", quotes.make_link, name="make_link"),
    path("<int:pk>/link/withdraw/", quotes.withdraw_links, name="withdraw_links"),
    path("<int:pk>/revise/", quotes.revise, name="revise"),
    path("<int:pk>/extend/", quotes.extend, name="extend"),
    path("<int:pk>/withdraw/", quotes.withdraw, name="withdraw"),
    path("<int:pk>/progress/", quotes.show_progress, name="show_progress"),
    path("<int:pk>/answer/", quotes.record_answer, name="record_answer"),
    path("<int:pk>/answer-question/", quotes.answer_question, name="answer_question"),
]

letter_addresses = [
    path("letters/", letters.letter_list, name="letters"),
    path("letters/<int:pk>/again/", letters.send_again, name="send_again"),
]

change_addresses = [
    path("job/<int:job_pk>/change/", changes.raise_change, name="raise_change"),
    path("changes/<int:pk>/", changes.change, name="change"),
    path("changes/<int:pk>/picture/", changes.picture, name="change_picture"),
    path("changes/<int:pk>/picture/set/", changes.set_picture, name="set_change_picture"),
    path("changes/<int:pk>/price/", changes.price_change, name="price_change"),
    path("changes/<int:pk>/withdraw/", changes.withdraw_change, name="withdraw_change"),
    path("<int:pk>/leave-out/", changes.omit, name="omit"),
    path("ways/<int:item_pk>/offer/", ways.offer_ways, name="offer_ways"),
    path("ways/<int:item_pk>/change/<int:number>/", ways.change_to_way, name="change_to_way"),
]

invoice_addresses = [
    path("job/<int:job_pk>/invoices/", invoices.of_job, name="invoices_of_job"),
    path("job/<int:job_pk>/invoices/stage/<int:stage>/", invoices.draft_stage, name="draft_stage"),
    path("job/<int:job_pk>/invoices/done/", invoices.draft_progress, name="draft_progress"),
    path("job/<int:job_pk>/invoices/rest/", invoices.draft_rest, name="draft_rest"),
    path("invoices/<int:pk>/", invoices.invoice, name="invoice"),
    path("invoices/<int:pk>/issue/", invoices.issue, name="issue_invoice"),
    path("invoices/<int:pk>/remove/", invoices.remove, name="remove_invoice"),
    path("invoices/<int:pk>/pay/", invoices.pay, name="pay"),
    path("payments/<int:pk>/take-back/", invoices.take_back, name="take_payment_back"),
    path("invoices/<int:pk>/credit/", invoices.credit, name="credit"),
    path("invoices/<int:pk>/send/", invoices.send, name="send_invoice"),
    path("invoices/<int:pk>/paper/", invoices.paper, name="invoice_paper"),
    path("invoices/<int:pk>/xml/", invoices.xml, name="invoice_xml"),
    path("overdue/", invoices.overdue_list, name="overdue"),
    path("statement/<int:client_pk>/", invoices.client_statement, name="statement"),
    path("statement/<int:client_pk>/paper/", invoices.statement_paper, name="statement_paper"),
    path("accounts/", accounts.accounts, name="accounts"),
]

LATER = "link/<str:token>/revision/<int:revision>/"
client_addresses = [
    path("link/<str:token>/", client.page, name="link"),
    path("link/<str:token>/paper/", client.document, name="link_paper"),
    path("link/<str:token>/picture/", client.picture, name="link_picture"),
    path("link/<str:token>/evidence/", client.evidence, name="link_evidence"),
    path("link/<str:token>/accept/", client.accept, name="link_accept"),
    path("link/<str:token>/decline/", client.decline, name="link_decline"),
    path("link/<str:token>/ask/", client.ask, name="link_ask"),
    path(LATER, client.page, name="later"),
    path(f"{LATER}paper/", client.document, name="later_paper"),
    path(f"{LATER}picture/", client.picture, name="later_picture"),
    path(f"{LATER}evidence/", client.evidence, name="later_evidence"),
    path(f"{LATER}accept/", client.accept, name="later_accept"),
    path(f"{LATER}decline/", client.decline, name="later_decline"),
    path(f"{LATER}ask/", client.ask, name="later_ask"),
]

urlpatterns = [
    *desk_addresses,
    *quote_addresses,
    *change_addresses,
    *letter_addresses,
    *invoice_addresses,
    *client_addresses,
]
