"""All jobs at once."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.access import sees_prices
from jobs.queries.portfolio import portfolio_page


@require_safe
@sees_prices
def portfolio(request: HttpRequest) -> HttpResponse:
    return render(request, "jobs/portfolio.html", {"shown": portfolio_page(request.GET.get("page"))})
