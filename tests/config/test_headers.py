"""What does every answer carry, and how do cookies and transport stand on HTTPS?"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests import make

ROOT = Path(__file__).resolve().parents[2]
ASKED = [
    "SESSION_COOKIE_NAME", "CSRF_COOKIE_NAME", "SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE",
    "SESSION_COOKIE_HTTPONLY", "SESSION_COOKIE_SAMESITE", "CSRF_COOKIE_SAMESITE", "SECURE_HSTS_SECONDS",
    "SESSION_COOKIE_AGE", "SECURE_SSL_REDIRECT", "SESSION_COOKIE_DOMAIN", "SESSION_SAVE_EVERY_REQUEST",
]  # fmt: skip
TELL = f"""import json; from django.conf import settings
print(json.dumps([getattr(settings, name) for name in {ASKED}]))"""


def test_cookies_and_transport_on_https(tmp_path: Path) -> None:
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("KERFBOOK_", "DATABASE_"))}
    switches = {"KERFBOOK_URL": "https://kerf.example", "KERFBOOK_DATA_DIR": str(tmp_path)}
    environment = kept | switches | {"DJANGO_SETTINGS_MODULE": "config.settings"}
    command = [sys.executable, "-c", TELL]
    said = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, check=True)
    assert json.loads(said.stdout) == [
        "__Host-kerfbook", "__Host-kerfbook-csrf", True, True,
        True, "Lax", "Lax", 365 * 24 * 60 * 60,
        14 * 24 * 60 * 60, True, None, False,
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["jobs:list", "jobs:workshop", "quotes:letters", "login"])
def test_every_page_carries_the_headers(as_owner: Browser, name: str) -> None:
    headers = as_owner.get(reverse(name)).headers
    policy = headers["Content-Security-Policy"]
    for rule in ("default-src 'self'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"):
        assert rule in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert "no-store" in headers["Cache-Control"]
    assert headers["Referrer-Policy"] == "same-origin"


def test_a_form_without_its_token_is_refused(owner: Any) -> None:
    strict = Browser(enforce_csrf_checks=True)
    strict.force_login(owner)
    assert strict.post(reverse("jobs:client-add"), {"name": "Forged"}).status_code == 403


def test_an_error_tells_nothing_of_the_inside(as_owner: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(*_: Any, **__: Any) -> None:
        raise RuntimeError("the secret place of the fault")

    monkeypatch.setattr("jobs.views.clients.add_client", breaks)
    as_owner.raise_request_exception = False
    make.client()
    answer = as_owner.post(reverse("jobs:client-add"), {"name": "Anybody"})
    assert answer.status_code == 500
    assert "secret place" not in answer.text
    assert "Traceback" not in answer.text
