"""How is a kept file handed out?"""

from __future__ import annotations

from django.http import HttpResponse
from django.utils.http import content_disposition_header

from quotes.models import IssuedDocument


def file_answer(document: IssuedDocument) -> HttpResponse:
    """A document as it was issued, byte for byte."""
    response = HttpResponse(bytes(document.content), content_type=document.content_type)
    response.headers["Content-Disposition"] = content_disposition_header(False, document.name) or ""
    response.headers["Cache-Control"] = "private, no-store"
    return response
