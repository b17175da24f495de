"""Which headers does every answer carry, which questions get none, and what if nothing can be stored?"""

from __future__ import annotations

import errno
import logging
from collections.abc import Callable

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import render

logger = logging.getLogger("kerfbook.storage")

POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' data: blob:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)


class ContentSecurityPolicy:
    """Everything from this site alone, nothing inline; and no page is kept by a cache."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers.setdefault("Cache-Control", "private, no-store")  # files say for themselves
        return response


class PlainAddress:
    """An address with a NUL in it is nobody's question, and PostgreSQL would stumble over it."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if "%00" in request.META.get("QUERY_STRING", "") or "\x00" in request.path_info:
            return HttpResponseBadRequest("There is a character in the address that cannot be meant.")
        return self.get_response(request)


class StorageTrouble:
    """A full disk or a database that stays busy is said in words; the transaction has been undone by then."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        if is_disk_full(exception):
            logger.critical("The disk is full: %s", exception)
            return render(request, "storage_full.html", status=507)
        if isinstance(exception, OperationalError) and "database is locked" in str(exception):
            logger.error("The database stayed busy: %s", exception)
            return render(request, "storage_busy.html", status=503)
        return None


def is_disk_full(exception: Exception) -> bool:
    """Whether it is for want of room: in a file, in SQLite or in PostgreSQL (SQLSTATE 53100)."""
    if isinstance(exception, OSError):
        return exception.errno == errno.ENOSPC
    if not isinstance(exception, OperationalError):
        return False
    code = getattr(exception.__cause__, "sqlstate", None)
    return code == "53100" or "disk is full" in str(exception)
