"""How does a page of the materials room become a PDF?"""

from __future__ import annotations

from typing import Any

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

PAPER_STYLES = ("css/ground.css", "css/figures.css", "css/drawings.css", "css/paper.css")


def pdf_of(html: str) -> bytes:
    """The page as a PDF with the project's own styles; nothing is fetched from anywhere."""
    from weasyprint import CSS, HTML  # slow import, only where a PDF is asked for

    found = [finders.find(name) for name in PAPER_STYLES]
    styles = [CSS(filename=str(path), url_fetcher=_refuse) for path in found if path]
    made = HTML(string=html, url_fetcher=_refuse).write_pdf(stylesheets=styles)
    assert isinstance(made, bytes)
    return made


def _refuse(url: str) -> Any:
    raise ValueError(f"A paper fetches nothing: {url}")


def pdf_answer(request: HttpRequest, template: str, page: dict[str, Any], *, name: str) -> HttpResponse:
    """The paper, to be looked at in the browser."""
    answer = HttpResponse(pdf_of(render_to_string(template, page, request)), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer
