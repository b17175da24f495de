"""How does a paper become a PDF?"""

from __future__ import annotations

import base64

from django.template.loader import render_to_string

from jobs.paper_pdf import draw_pdf
from jobs.photos import photo_path
from quotes.papers.paper import Paper


def paper_html(paper: Paper, *, draft: bool = False, logo: str = "") -> str:
    """The paper as the HTML that the PDF is drawn from."""
    return render_to_string(
        "papers/quote.html",
        {
            "paper": paper,
            "draft": draft,
            "logo": logo,
            "letter": paper.letterhead,
            "photo": _photo(paper.change.photo) if paper.change and paper.change.photo else "",
        },
    )


def _photo(sha256: str) -> str:
    """The picture as a data address; a paper without it where its file is gone."""
    path = photo_path(sha256)
    if not path.exists():
        return ""
    return f"data:image/jpeg;base64,{base64.b64encode(path.read_bytes()).decode('ascii')}"


def paper_pdf(paper: Paper, *, draft: bool = False, logo: str = "") -> bytes:
    """The paper as a tagged PDF with its title and language. Slow (a quarter of a second): keep it out of
    transactions.
    """
    return draw_pdf(paper_html(paper, draft=draft, logo=logo))
