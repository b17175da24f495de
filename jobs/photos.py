"""Is this a picture, and how is it kept? Read by content, made smaller, without the place it was taken."""

from __future__ import annotations

import hashlib
import os
import tempfile
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from django.conf import settings
from PIL import Image, ImageOps, UnidentifiedImageError

from jobs.models import Person, Photo
from jobs.refusals import RefusedError

MOST_BYTES = 10 * 1024 * 1024
MOST_PIXELS = 64_000_000
LONGEST_SIDE = 1600
QUALITY = 82
FORMATS = ("JPEG", "PNG", "WEBP")
FAULTS = (
    UnidentifiedImageError,
    Image.DecompressionBombError,
    Image.DecompressionBombWarning,
    OSError,
    SyntaxError,
    ValueError,
)


@dataclass(frozen=True)
class Picture:
    """A picture as it is kept: a JPEG and its size."""

    jpeg: bytes
    width: int
    height: int


def read_picture(content: bytes) -> Picture:
    """A JPEG of the pixels alone, the right way up, its longest side as the screen needs it.

    Refused by its content, whatever its name: no picture, too large, or more pixels than any phone takes.
    """
    if len(content) > MOST_BYTES:
        raise RefusedError(f"That picture is over {MOST_BYTES // 1024 // 1024} MB.")
    try:
        pixels = _pixels(content)
    except FAULTS as fault:
        raise RefusedError("That file is no picture: a JPEG, PNG or WebP is wanted.") from fault
    out = BytesIO()
    pixels.save(out, "JPEG", quality=QUALITY, optimize=True)
    return Picture(out.getvalue(), pixels.width, pixels.height)


def keep_photo(picture: Picture, *, person: Person) -> Photo:
    """The picture is in the photo folder under the hash of what is kept; the same picture is kept once."""
    name = hashlib.sha256(picture.jpeg).hexdigest()
    _write(photo_path(name), picture.jpeg)
    photo, _ = Photo.objects.get_or_create(
        sha256=name,
        defaults={
            "width": picture.width,
            "height": picture.height,
            "bytes_long": len(picture.jpeg),
            "added_by": person,
        },
    )
    return photo


def photo_path(sha256: str) -> Path:
    """Where a picture lies."""
    return Path(settings.PHOTO_DIR) / sha256[:2] / f"{sha256}.jpg"


def _pixels(content: bytes) -> Image.Image:
    with Image.open(BytesIO(content), formats=FORMATS) as picture:
        if picture.width * picture.height > MOST_PIXELS:
            raise RefusedError("That picture has too many pixels.")
        picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        upright = ImageOps.exif_transpose(picture)
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        return _on_white(upright)


def _on_white(picture: Image.Image) -> Image.Image:
    """Plain pixels, with nothing of what the file carried beside them; what was clear becomes white."""
    seen = picture.convert("RGBA")
    pixels = Image.new("RGB", seen.size, "white")
    pixels.paste(seen, mask=seen.getchannel("A"))
    return pixels


def _write(path: Path, content: bytes) -> None:
    """Whole or not at all: a reader never finds half a picture."""
    if path.exists():
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, part = tempfile.mkstemp(dir=path.parent, prefix=".part-")
    with os.fdopen(handle, "wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())
    os.replace(part, path)
