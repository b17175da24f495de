"""From where does a request come?"""

from __future__ import annotations

import ipaddress

from django.conf import settings
from django.http import HttpRequest


def address_of(request: HttpRequest) -> str | None:
    """The browser's address. Only as many steps of X-Forwarded-For are believed as proxies stand in front."""
    address = str(request.META.get("REMOTE_ADDR", ""))
    steps = [step.strip() for step in request.headers.get("X-Forwarded-For", "").split(",") if step.strip()]
    proxies = settings.PROXIES_IN_FRONT
    if proxies and len(steps) >= proxies:
        address = steps[-proxies]
    try:
        return str(ipaddress.ip_address(address))
    except ValueError:
        return None
