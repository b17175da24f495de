"""Pictures made on the spot, for tests that send one."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from PIL import Image


def picture(width: int = 40, height: int = 30, kind: str = "JPEG", **options: Any) -> bytes:
    """A plain picture of that size as a file of that kind."""
    out = BytesIO()
    Image.new("RGB", (width, height), "teal").save(out, kind, **options)
    return out.getvalue()
