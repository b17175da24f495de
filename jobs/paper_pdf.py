"""How does a paper of the workshop become a PDF? Of a quote, an order, a cut sheet."""

from __future__ import annotations

import atexit
import base64
from functools import lru_cache
from pathlib import Path
from typing import Any

from django.conf import settings

from jobs.models import Workshop

STATIC = Path(settings.BASE_DIR) / "static"
SHEETS = ("css/papers.css", "css/paper_drawings.css", "css/paper_cutting.css")


def draw_pdf(html: str, **options: Any) -> bytes:
    """Lay out HTML with our style sheet and fonts; nothing is fetched from elsewhere."""
    from weasyprint import HTML  # slow import: half a second that only papers need

    fonts, sheets, fetcher = _shared()
    document = HTML(string=html, base_url=f"{STATIC.as_uri()}/", url_fetcher=fetcher)
    return bytes(document.write_pdf(stylesheets=sheets, font_config=fonts, pdf_tags=True, **options))


@lru_cache(maxsize=1)
def _shared() -> tuple[Any, list[Any], Any]:
    """Fonts and style sheets are read once a process: it keeps memory from growing with every paper."""
    from weasyprint import CSS  # slow import
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher

    class OursOnly(URLFetcher):  # type: ignore[misc]  # WeasyPrint is untyped
        """Files of our own static folder, and pictures carried in the HTML itself."""

        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            if not url.startswith((f"{STATIC.as_uri()}/", "data:image/")):
                raise ValueError("A paper fetches nothing from elsewhere.")
            return super().fetch(url, headers)

    fetcher = OursOnly(allowed_protocols=("file", "data"))
    fonts = FontConfiguration()
    sheets = [CSS(filename=str(STATIC / name), font_config=fonts, url_fetcher=fetcher) for name in SHEETS]
    atexit.register(_shared.cache_clear)  # while the interpreter still has what they need to be let go
    return fonts, sheets, fetcher


def logo_address() -> str:
    """The logo as a data address, or nothing; read only when a paper is drawn."""
    kept = Workshop.objects.filter(pk=1).values_list("logo", "logo_type").first()
    if not kept or not kept[0]:
        return ""
    return f"data:{kept[1] or 'image/png'};base64,{base64.b64encode(bytes(kept[0])).decode('ascii')}"
