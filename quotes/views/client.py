"""The client's side of a link: no account, nothing cached, nothing indexed, nothing leaked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from jobs.models import Photo
from jobs.network import address_of
from jobs.refusals import RefusedError
from jobs.views.photos import picture_answer
from quotes.enums import LinkStep
from quotes.forms.client import AcceptForm, AskForm, DeclineForm
from quotes.models import ClientLink, IssuedDocument, Quote
from quotes.papers.evidence import evidence_of
from quotes.queries.client_page import ClientPage, client_page, open_link, quote_of_link
from quotes.queries.sheet import paper_of
from quotes.services import asking, deciding
from quotes.services.links import Caller, TooManyKnocksError, knock, note
from quotes.views.answers import file_answer


@dataclass(frozen=True)
class Visit:
    """Somebody at an open link, and the quote they came for."""

    link: ClientLink
    quote: Quote


View = Callable[[HttpRequest, Visit], HttpResponse]


def by_link(view: View) -> Callable[..., HttpResponse]:
    """Let in whoever holds an open link, and nobody who knocks too often. The answer is never kept.

    A link that was withdrawn, has expired or never was gets the same page, so that nothing can be guessed.
    """

    @login_not_required
    @wraps(view)
    def guarded(request: HttpRequest, token: str, revision: int | None = None) -> HttpResponse:
        try:
            knock(caller_of(request).address)
        except TooManyKnocksError:
            return _sealed(render(request, "client/too_many.html", status=429))
        link = open_link(token)
        quote = quote_of_link(link, revision) if link else None
        if link is None or quote is None:
            return _sealed(render(request, "client/shut.html", status=404))
        return _sealed(view(request, Visit(link, quote)))

    return guarded


@require_safe
@by_link
def page(request: HttpRequest, visit: Visit) -> HttpResponse:
    seen = client_page(visit.link, visit.quote, ticked_in(request.GET))
    if request.headers.get("HX-Request"):
        return render(request, "client/parts/totals.html", {"page": seen, "paper": seen.paper})
    _note(request, visit, LinkStep.OPENED)
    return _show(request, seen)


@require_safe
@by_link
def document(request: HttpRequest, visit: Visit) -> HttpResponse:
    _note(request, visit, LinkStep.READ_PDF)
    return file_answer(IssuedDocument.objects.get(quote=visit.quote))


@require_safe
@by_link
def picture(request: HttpRequest, visit: Visit) -> HttpResponse:
    """The picture that the paper went out with, and no other."""
    paper = paper_of(visit.quote)
    shown = paper.change.photo if paper and paper.change else ""
    kept = Photo.objects.filter(sha256=shown).first() if shown else None
    return picture_answer(kept) if kept else render(request, "client/shut.html", status=404)


@require_safe
@by_link
def evidence(request: HttpRequest, visit: Visit) -> HttpResponse:
    decision = getattr(visit.quote, "decision", None)
    if decision is None:
        return render(request, "client/shut.html", status=404)
    return file_answer(evidence_of(decision))


@require_POST
@by_link
def accept(request: HttpRequest, visit: Visit) -> HttpResponse:
    return _answer(request, visit, AcceptForm(request.POST))


@require_POST
@by_link
def decline(request: HttpRequest, visit: Visit) -> HttpResponse:
    return _answer(request, visit, DeclineForm(request.POST, auto_id="decline_%s"))


@require_POST
@by_link
def ask(request: HttpRequest, visit: Visit) -> HttpResponse:
    form = AskForm(request.POST, auto_id="ask_%s")
    if form.is_valid():
        try:
            asking.ask(link=visit.link, quote=visit.quote, caller=caller_of(request), **form.cleaned_data)
        except RefusedError as error:
            form.add_error(None, str(error))
        else:
            return redirect(f"{request.path.removesuffix('ask/')}#thread")
    return _show(request, client_page(visit.link, visit.quote), ask=form)


def _answer(request: HttpRequest, visit: Visit, form: AcceptForm | DeclineForm) -> HttpResponse:
    """Take the answer and go back to the page; a refusal is said there, with what was typed and ticked."""
    says_yes = isinstance(form, AcceptForm)
    ticked = ticked_in(request.POST) if says_yes else frozenset()
    if form.is_valid():
        data = form.cleaned_data
        reply = deciding.Reply(data["name"], data["sha256"], ticked, data.get("reason", ""))
        decide = deciding.accept if says_yes else deciding.decline
        try:
            decide(link=visit.link, quote=visit.quote, reply=reply, caller=caller_of(request))
        except RefusedError as error:
            _note(request, visit, LinkStep.REFUSED, str(error))
            form.add_error(None, str(error))
        else:
            return redirect(request.path.removesuffix("accept/").removesuffix("decline/"))
    fresh = quote_of_link(visit.link, visit.quote.revision) or visit.quote
    return _show(
        request, client_page(visit.link, fresh, ticked), **{"accept" if says_yes else "decline": form}
    )


def _show(request: HttpRequest, seen: ClientPage, **forms: Any) -> HttpResponse:
    assert request.resolver_match is not None
    context = {
        "token": request.resolver_match.kwargs["token"],
        "page": seen,
        "paper": seen.paper,
        "accept": AcceptForm(initial={"sha256": seen.sha256}),
        "decline": DeclineForm(initial={"sha256": seen.sha256}, auto_id="decline_%s"),
        "ask": AskForm(auto_id="ask_%s"),
        "here": request.path.removesuffix("accept/").removesuffix("decline/").removesuffix("ask/"),
    }
    return render(request, "client/page.html", {**context, **forms})


def _note(request: HttpRequest, visit: Visit, step: LinkStep, detail: str = "") -> None:
    note(quote=visit.quote, link=visit.link, step=step, caller=caller_of(request), detail=detail)


def ticked_in(sent: QueryDict) -> frozenset[str]:
    """The keys of the extras ticked and the alternatives chosen; none of a group is sent as an empty one."""
    names = [name for name in sent if name == "extra" or name.startswith("one_of_")]
    return frozenset(key for name in names for key in sent.getlist(name) if key)


def caller_of(request: HttpRequest) -> Caller:
    """From where and with what a request came."""
    return Caller(address=address_of(request) or "", browser=request.headers.get("User-Agent", ""))


def _sealed(response: HttpResponse) -> HttpResponse:
    """The address is a secret: not to be kept, not to be found, not to be passed on.

    `same-origin` sends no address to any other site; `no-referrer` would make browsers hide the origin of the
    answer form as well, which is what guards it against forgery.
    """
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["X-Robots-Tag"] = "noindex, nofollow, noarchive"
    response.headers["Referrer-Policy"] = "same-origin"
    return response
