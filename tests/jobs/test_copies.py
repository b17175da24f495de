"""The owner is told, loudly, when there is no copy or only an old one; others are not."""

from __future__ import annotations

import json
import os
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from jobs.backup.archive import LAST_GOOD
from jobs.models import Person
from jobs.photos import keep_photo, read_picture
from jobs.queries.copies import copies, copies_alert
from tests.checks import says
from tests.pictures import picture


@pytest.fixture(autouse=True)
def data_folder(settings: Any, tmp_path: Path) -> Path:
    settings.DATA_DIR = tmp_path
    return tmp_path


def copied(folder: Path, ago: timedelta) -> datetime:
    now = timezone.now()
    note = {"file": "/copies/kerfbook.zip", "made_at": (now - ago).isoformat(), "bytes": 2_500_000}
    (folder / LAST_GOOD).write_text(json.dumps(note))
    return now


@pytest.mark.parametrize(
    ("ago", "told"),
    [
        (timedelta(0), ""),
        (timedelta(days=2), ""),
        (timedelta(days=2, seconds=1), "2 days old"),
        (timedelta(days=30), "30 days old"),
        (timedelta(minutes=-59), ""),
        (timedelta(hours=-2), "still to come"),
    ],
)
def test_a_copy_is_judged_by_its_age(data_folder: Path, ago: timedelta, told: str) -> None:
    now = copied(data_folder, ago)
    amiss = copies(now).amiss
    assert told in amiss
    assert bool(amiss) is bool(told)
    assert copies_alert(now) == amiss


def test_a_place_without_a_copy_is_left_in_peace_on_its_first_day(data_folder: Path) -> None:
    key, now = data_folder / "secret_key", timezone.now()
    assert "No copy" in copies_alert(now)
    key.touch()
    assert copies_alert(now) == ""
    yesterday = (now - timedelta(days=1, minutes=1)).timestamp()
    os.utime(key, (yesterday, yesterday))
    assert "No copy" in copies_alert(now)


def test_the_owner_is_told_on_every_page_but_the_bench(as_owner: Browser, as_maker: Browser) -> None:
    home = reverse("jobs:list")
    assert says(as_owner.get(home), "No copy of this workshop’s records")
    assert not says(as_maker.get(home), "No copy of this workshop’s records")
    assert not says(as_owner.get(reverse("jobs:bench")), "No copy of this workshop’s records")
    assert not says(as_owner.get(home, headers={"HX-Request": "true"}), "No copy")


def test_the_workshop_page_tells_of_the_last_copy(as_owner: Browser, data_folder: Path) -> None:
    page = as_owner.get(reverse("jobs:workshop"))
    assert says(page, "No copy of this workshop’s records has been made yet.")
    copied(data_folder, timedelta(hours=3))
    page = as_owner.get(reverse("jobs:workshop"))
    assert says(page, "/copies/kerfbook.zip")
    assert says(page, "2.5 MB")
    assert not says(page, "days old")


def test_the_workshop_page_names_the_photos_that_could_not_be_copied(
    as_owner: Browser, owner: Person, data_folder: Path, django_assert_num_queries: Any
) -> None:
    photo = keep_photo(read_picture(picture()), person=owner)
    now = copied(data_folder, timedelta(hours=3))
    page = reverse("jobs:workshop")
    assert not says(as_owner.get(page), "could not be copied")
    with django_assert_num_queries(0):
        assert copies(now).missing == []
    note = json.loads((data_folder / LAST_GOOD).read_text()) | {"missing_photos": [photo.sha256]}
    (data_folder / LAST_GOOD).write_text(json.dumps(note))
    with django_assert_num_queries(1):
        assert len(copies(now).missing) == 1
    shown = as_owner.get(page)
    assert says(shown, "1 photo could not be copied", f"photos/{photo.sha256[:2]}/{photo.sha256}.jpg")
    assert says(shown, "Olive Owner")
