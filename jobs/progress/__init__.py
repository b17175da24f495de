"""How does a job stand: budget, actual, forecast, earned value?

Pure calculation from plain rows. Percent done is what the maker says, never worked out from hours spent.
"""

from jobs.progress.average_week import average_week
from jobs.progress.capacity import Booking, monday, planned_days, spread
from jobs.progress.earned_value import EarnedValue, EarnedWork, ForecastRule, Index, earn
from jobs.progress.learning import AgreedWork, Lesson, Outlook, chance_price_holds, lessons, outlook
from jobs.progress.look_back import Parting, Step, margin_steps, part, together
from jobs.progress.phases import (
    Amounts,
    Basis,
    JobProgress,
    PhaseProgress,
    PhaseRow,
    cost_of_hours_left,
    measure,
    measure_job,
)
from jobs.progress.plan import planned_fraction

__all__ = [
    "AgreedWork",
    "Amounts",
    "Basis",
    "Booking",
    "EarnedValue",
    "EarnedWork",
    "ForecastRule",
    "Index",
    "JobProgress",
    "Lesson",
    "Outlook",
    "Parting",
    "PhaseProgress",
    "PhaseRow",
    "Step",
    "average_week",
    "chance_price_holds",
    "cost_of_hours_left",
    "earn",
    "lessons",
    "margin_steps",
    "measure",
    "measure_job",
    "monday",
    "outlook",
    "part",
    "planned_days",
    "planned_fraction",
    "spread",
    "together",
]
