"""Which room of the strip is marked on the pages of take-off, plans and purchases."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests import make


@pytest.mark.parametrize("name", ["takeoff", "plans", "purchase", "mass"])
def test_pages_of_a_job_stand_under_jobs(as_owner: Browser, name: str) -> None:
    answer = as_owner.get(reverse(f"materials:{name}", args=[make.phase().job.pk]))
    assert answer.context["room"] == "jobs"


@pytest.mark.parametrize("name", ["list", "stock", "orders", "suppliers", "price-list-new"])
def test_pages_of_the_stock_stand_under_materials(as_owner: Browser, name: str) -> None:
    assert as_owner.get(reverse(f"materials:{name}")).context["room"] == "materials"
