"""Lists of phases: kept, changed, made from a job, taken out."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import PhaseList
from tests import make
from tests.checks import says


def typed(name: str, *titles: str, **more: str) -> dict[str, str]:
    rows = {f"phases-{at}-title": title for at, title in enumerate(titles)}
    return {
        "name": name,
        "phases-TOTAL_FORMS": str(len(titles)),
        "phases-INITIAL_FORMS": "0",
        **rows,
        **more,
    }


def titles(kept: PhaseList) -> list[str]:
    return list(kept.items.order_by("position").values_list("title", flat=True))


def test_a_list_is_kept_without_its_empty_rows(as_owner: Browser) -> None:
    as_owner.post(reverse("jobs:phase-list-add"), typed("Hut", "Strip out", "", "Lining"))
    assert titles(PhaseList.objects.get(name="Hut")) == ["Strip out", "Lining"]


def test_places_put_the_rows_in_order(as_owner: Browser) -> None:
    places = {"phases-0-position": "2", "phases-1-position": "1"}
    as_owner.post(reverse("jobs:phase-list-add"), typed("Hut", "Lining", "Strip out", "Finish", **places))
    assert titles(PhaseList.objects.get()) == ["Strip out", "Lining", "Finish"]


def test_a_list_is_changed(as_owner: Browser) -> None:
    kept = make.phase_list("Strip out", "Lining")
    address = reverse("jobs:phase-list", args=[kept.pk])
    assert says(as_owner.get(address), "Strip out", "Lining")
    more = {"phases-0-cautions": "dust", "phases-0-planned_days": "3", "phases-0-grade": "painted"}
    as_owner.post(address, typed("Better", "Lining", **more))
    kept.refresh_from_db()
    item = kept.items.get()
    assert (kept.name, item.title, item.planned_days, item.cautions) == ("Better", "Lining", 3, ["dust"])
    assert item.grade == "painted"


@pytest.mark.parametrize(
    ("name", "more", "said"),
    [
        ("", {}, "This field is required."),
        ("Taken", {}, "already exists"),
        ("Hut", {"phases-0-planned_days": "-1"}, "greater than or equal to 0"),
    ],
)
def test_nonsense_is_said_and_the_rows_are_kept(
    as_owner: Browser, name: str, more: dict[str, str], said: str
) -> None:
    make.phase_list(name="Taken")
    answer = as_owner.post(reverse("jobs:phase-list-add"), typed(name, "Lining", **more))
    assert answer.status_code == 422
    assert says(answer, said, "Lining")
    assert PhaseList.objects.count() == 1


def test_a_form_cut_short_is_no_crash(as_owner: Browser) -> None:
    assert as_owner.post(reverse("jobs:phase-list-add"), {"name": "Hut"}).status_code == 422


def test_a_list_from_a_job(as_owner: Browser) -> None:
    job = make.job()
    make.phase(job=job, title="Lining", planned_days=4, cautions=["dust"], position=1)
    make.phase(job=job, title="Strip out", position=0)
    as_owner.post(reverse("jobs:phase-list-of-job", args=[job.pk]), {"name": "Hut"})
    assert titles(PhaseList.objects.get(name="Hut")) == ["Strip out", "Lining"]


def test_taken_out_leaves_jobs_alone(as_owner: Browser) -> None:
    kept = make.phase_list("Lining")
    answer = as_owner.post(reverse("jobs:phase-list-take-out", args=[kept.pk]), follow=True)
    assert says(answer, "is taken out")
    assert not PhaseList.objects.exists()
