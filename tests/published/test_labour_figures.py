"""Hours and estimates against published figures, the source beside each."""

from decimal import Decimal

import pytest

from jobs.progress import average_week, hours_from_minutes


@pytest.mark.parametrize(
    ("minutes", "hours"), [([440], "7.33"), ([37], "0.62"), ([20] * 5, "1.67"), ([], "0.00")]
)
def test_minutes_are_summed_before_they_are_hours(minutes, hours):
    assert hours_from_minutes(minutes) == Decimal(hours)  # arithmetic


def test_average_week_over_the_reference_period():
    # UK Working Time Regulations 1998 (SI 1998/1833) reg. 4(6): 816 hours in 17 weeks is 48.
    assert average_week(worked=Decimal(816), made_up=Decimal(0), weeks=17) == 48
    with pytest.raises(ValueError, match="week"):
        average_week(worked=Decimal(1), made_up=Decimal(0), weeks=0)
