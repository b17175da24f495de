"""How does a paper become a PDF?"""

from __future__ import annotations

from django.template.loader import render_to_string

from jobs.paper_pdf import draw_pdf
from quotes.papers.paper import Paper


def paper_html(paper: Paper, *, draft: bool = False, logo: str = "") -> str:
    """The paper as the HTML that the PDF is drawn from."""
    return render_to_string(
        "papers/quote.html", {"paper": paper, "draft": draft, "logo": logo, "letter": paper.letterhead}
    )


def paper_pdf(paper: Paper, *, draft: bool = False, logo: str = "") -> bytes:
    """The paper as a tagged PDF with its title and language. Slow (a quarter of a second): keep it out of
    transactions.
    """
    return draw_pdf(paper_html(paper, draft=draft, logo=logo))
