"""Pictures: told by their content, made smaller, without the place, the right way up, kept once."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image

from jobs.models import Photo
from jobs.photos import MOST_BYTES, photo_path, read_picture
from jobs.photos import keep_photo as keep
from jobs.refusals import RefusedError
from tests.pictures import picture

ORIENTATION, GPS, MAKE = 0x0112, 0x8825, 0x010F


@pytest.fixture(autouse=True)
def _folder(tmp_path, settings):
    settings.PHOTO_DIR = tmp_path / "photos"


def keep_photo(content, *, person):
    return keep(read_picture(content), person=person)


def kept(photo):
    return Image.open(photo_path(photo.sha256))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_picture_is_kept_as_a_small_jpeg(kind, maker):
    photo = keep_photo(picture(3200, 2400, kind), person=maker)
    with kept(photo) as stored:
        assert (stored.format, stored.size) == ("JPEG", (1600, 1200))
    assert (photo.width, photo.height, photo.added_by) == (1600, 1200, maker)


def test_a_small_picture_is_not_blown_up(maker):
    photo = keep_photo(picture(40, 30), person=maker)
    assert (photo.width, photo.height) == (40, 30)


def test_the_place_and_the_camera_are_left_out(maker):
    exif = Image.Exif()
    exif[MAKE] = "A camera"
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (51.0, 30.0, 0.0)
    sent = picture(80, 60, exif=exif)
    with Image.open(BytesIO(sent)) as before:
        assert before.getexif().get_ifd(GPS)
    with kept(keep_photo(sent, person=maker)) as after:
        assert dict(after.getexif()) == {}
        assert "exif" not in after.info


def test_it_stands_the_right_way_up(maker):
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # the camera was turned: a quarter to the right puts it up
    photo = keep_photo(picture(80, 60, exif=exif), person=maker)
    assert (photo.width, photo.height) == (60, 80)


def test_the_same_picture_is_kept_once(maker, owner):
    assert keep_photo(picture(40, 30), person=maker) == keep_photo(picture(40, 30), person=owner)
    assert Photo.objects.count() == 1


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"GIF89a" + b"\0" * 40,
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"%PDF-1.7",
        picture(40, 30)[:200],
    ],
    ids=["nothing", "gif", "svg", "pdf", "half a picture"],
)
def test_what_is_no_picture_is_refused(content, maker):
    with pytest.raises(RefusedError, match="no picture"):
        keep_photo(content, person=maker)
    assert Photo.objects.count() == 0


def test_too_many_bytes_or_pixels_are_refused(maker):
    with pytest.raises(RefusedError, match="10 MB"):
        keep_photo(b"x" * (MOST_BYTES + 1), person=maker)
    with pytest.raises(RefusedError):
        keep_photo(picture(20000, 4000, "PNG"), person=maker)
