"""How does the workshop's logo get onto a paper?"""

from __future__ import annotations

import base64

from jobs.models import Workshop


def logo_address() -> str:
    """The logo as a data address, or nothing; read only when a paper is drawn."""
    kept = Workshop.objects.filter(pk=1).values_list("logo", "logo_type").first()
    if not kept or not kept[0]:
        return ""
    return f"data:{kept[1] or 'image/png'};base64,{base64.b64encode(bytes(kept[0])).decode('ascii')}"
