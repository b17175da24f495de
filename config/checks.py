"""What is misconfigured, in plain words, and what to type? Run at every start and by `manage.py check`."""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import Any
from urllib.parse import urlsplit

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, Warning, register

LOCAL = frozenset({"localhost", "127.0.0.1", "::1"})


def _is_public() -> bool:
    return (urlsplit(settings.SITE_URL).hostname or "") not in LOCAL


@register()
def data_folder(app_configs: Sequence[AppConfig] | None, **_: Any) -> list[CheckMessage]:
    """The data folder can be written to."""
    folder = settings.DATA_DIR
    if folder.exists() and os.access(folder, os.W_OK):
        return []
    return [
        Error(
            f"The data folder {folder} cannot be written to.",
            hint=f"Make it and give it to this user: mkdir -p {folder} && chown $(id -un) {folder}",
            id="kerfbook.E001",
        )
    ]


@register(Tags.urls)
def address(app_configs: Sequence[AppConfig] | None, **_: Any) -> list[CheckMessage]:
    """The address that clients' links begin with is one this server answers to."""
    host = urlsplit(settings.SITE_URL).hostname or ""
    answers_to = {name.strip("[]") for name in settings.ALLOWED_HOSTS}
    if host in answers_to or "*" in answers_to:
        return []
    return [
        Error(
            f"Links begin with {settings.SITE_URL}, but this server does not answer to {host}.",
            hint=f"Set KERFBOOK_HOSTS={host}",
            id="kerfbook.E002",
        )
    ]


@register(Tags.security)
def public_server(app_configs: Sequence[AppConfig] | None, **_: Any) -> list[CheckMessage]:
    """A server that others reach runs on HTTPS, without debug pages, behind a proxy it knows of."""
    found: list[CheckMessage] = []
    if not _is_public():
        return found
    if settings.DEBUG:
        found.append(
            Error(
                "Debug pages would show the program's inside to strangers.",
                hint="Unset KERFBOOK_DEBUG.",
                id="kerfbook.E003",
            )
        )
    if not settings.HTTPS:
        found.append(
            Warning(
                f"{settings.SITE_URL} is not HTTPS: log-ins and clients' links can be read on the way.",
                hint="Put a reverse proxy with a certificate in front and set KERFBOOK_URL=https://…",
                id="kerfbook.W001",
            )
        )
    elif not settings.PROXIES_IN_FRONT:
        found.append(
            Warning(
                "HTTPS is on but no proxy is declared, so every browser seems to come from the same address.",
                hint="Set KERFBOOK_PROXIES=1 if one reverse proxy stands in front.",
                id="kerfbook.W002",
            )
        )
    return found


@register()
def mail(app_configs: Sequence[AppConfig] | None, **_: Any) -> list[CheckMessage]:
    """A server that others reach can send its letters."""
    if settings.EMAIL_HOST or not _is_public():
        return []
    return [
        Warning(
            "There is no mail server: letters are only written to the data folder.",
            hint="Set KERFBOOK_SMTP_HOST, KERFBOOK_SMTP_USER, KERFBOOK_SMTP_PASSWORD and KERFBOOK_MAIL_FROM.",
            id="kerfbook.W003",
        )
    ]
