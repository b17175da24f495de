"""The average week against the regulation that defines it."""

from decimal import Decimal

import pytest

from jobs.progress import average_week


def test_average_week_over_the_reference_period():
    # UK Working Time Regulations 1998 (SI 1998/1833) reg. 4(6): 816 hours in 17 weeks is 48.
    assert average_week(worked=Decimal(816), made_up=Decimal(0), weeks=17) == 48
    with pytest.raises(ValueError, match="week"):
        average_week(worked=Decimal(1), made_up=Decimal(0), weeks=0)
