"""Tokens for the workshop's own scripts."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from jobs.access import owner_only, person_of
from jobs.forms.tokens import TokenForm
from jobs.models import ApiToken
from jobs.services.accounts.tokens import end_token, make_token


@never_cache
@require_http_methods(["GET", "POST"])
@owner_only
def tokens(request: HttpRequest) -> HttpResponse:
    person, shown = person_of(request), ""
    form = TokenForm(request.POST or None)
    if form.is_valid():
        shown = make_token(person=person, now=timezone.now(), **form.cleaned_data)
        form = TokenForm()
    kept = ApiToken.objects.filter(person=person)
    return render(request, "jobs/accounts/tokens.html", {"form": form, "shown": shown, "tokens": kept})


@require_POST
@owner_only
def token_end(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_of(request)
    end_token(token=get_object_or_404(ApiToken, pk=pk, person=person), by=person)
    messages.success(request, "That token opens nothing any more.")
    return redirect("jobs:tokens")
