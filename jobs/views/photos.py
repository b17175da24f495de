"""Pictures, to those who may see them."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import person_of
from jobs.models import Photo
from jobs.photos import photo_path
from jobs.queries.photos import photo_for

HEADERS = {
    "Cache-Control": "private, max-age=86400, immutable",
    "Content-Security-Policy": "default-src 'none'; sandbox",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
}


@require_safe
def photo(request: HttpRequest, sha256: str) -> HttpResponse:
    return picture_answer(photo_for(person_of(request), sha256))


def picture_answer(kept: Photo) -> HttpResponse:
    """A picture's bytes, for whoever was found to be let in."""
    try:
        jpeg = photo_path(kept.sha256).read_bytes()
    except FileNotFoundError:
        raise Http404 from None
    return HttpResponse(jpeg, content_type=kept.content_type, headers=HEADERS)
