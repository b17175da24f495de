"""What was sent to whom and when, and what did not get out?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from jobs.access import owner_only, sees_prices
from jobs.models import Outbox
from jobs.services.outbox import try_again
from quotes.queries.letters import MOST_SHOWN, newest_letters


@require_safe
@sees_prices
def letter_list(request: HttpRequest) -> HttpResponse:
    return render(request, "quotes/letters.html", {"letters": newest_letters(), "most": MOST_SHOWN})


@require_POST
@owner_only
def send_again(request: HttpRequest, pk: int) -> HttpResponse:
    try_again(letter=get_object_or_404(Outbox, pk=pk))
    messages.success(request, "It goes out with the next sending.")
    return redirect("quotes:letters")
