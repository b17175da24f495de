"""What makes the bench an app on the phone: the manifest, and the worker that keeps it without a signal."""

from __future__ import annotations

import hashlib
import json
from functools import lru_cache
from pathlib import Path

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.http import require_safe

PAGES = ("bench", "bench-hours", "bench-cost", "bench-note", "bench-queue")
FILES = (
    "css/ground.css",
    "css/figures.css",
    "css/forms.css",
    "css/drawings.css",
    "css/bench.css",
    "js/page.js",
    "js/bench/bench.js",
    "js/bench/forms.js",
    "js/bench/mending.js",
    "js/bench/picture.js",
    "js/bench/send.js",
    "js/bench/store.js",
    "js/bench/timer.js",
    "js/bench/today.js",
    "js/bench/waiting.js",
    "icons/mark.svg",
    "icons/kerfbook-192.png",
    "fonts/source-sans-3-latin-400-normal.woff2",
    "fonts/source-sans-3-latin-400-italic.woff2",
    "fonts/source-sans-3-latin-600-normal.woff2",
    "django_htmx/htmx-2.min.js",
)
SIZES = {"any": (192, 512), "maskable": (512,)}


@require_safe
@login_not_required
def manifest(request: HttpRequest) -> JsonResponse:
    icons = [
        {
            "src": static(f"icons/kerfbook-{'' if purpose == 'any' else 'maskable-'}{size}.png"),
            "sizes": f"{size}x{size}",
            "type": "image/png",
            "purpose": purpose,
        }
        for purpose, sizes in SIZES.items()
        for size in sizes
    ]
    told = {
        "name": "Kerfbook bench",
        "short_name": "Kerfbook",
        "id": reverse("jobs:bench"),
        "start_url": reverse("jobs:bench"),
        "scope": "/",
        "display": "standalone",
        "background_color": "#faf7f1",
        "theme_color": "#1d5f5c",
        "icons": icons,
    }
    return JsonResponse(told, content_type="application/manifest+json")


@require_safe
@login_not_required
def worker(request: HttpRequest) -> HttpResponse:
    told = {
        "version": _version(settings.DEBUG),
        "files": [static(name) for name in FILES],
        "pages": [reverse(f"jobs:{name}") for name in PAGES],
    }
    response = render(
        request, "jobs/bench/worker.js", {"told_json": json.dumps(told)}, content_type="text/javascript"
    )
    response.headers["Cache-Control"] = "no-cache"
    return response


def _version(fresh: bool) -> str:
    """Changes when any kept file does, so that a phone takes the new ones."""
    if fresh:
        _hash_of_files.cache_clear()
    return _hash_of_files()


@lru_cache(maxsize=1)
def _hash_of_files() -> str:
    digest = hashlib.sha256()
    for name in FILES:
        found = finders.find(name)
        digest.update(Path(str(found)).read_bytes() if found else name.encode())
    return digest.hexdigest()[:12]
