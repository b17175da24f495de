from django.apps import AppConfig
from django.db.models.signals import post_migrate


class JobsConfig(AppConfig):
    name = "jobs"

    def ready(self) -> None:
        from jobs import calendar, told_here
        from jobs.append_only import keep_append_only, lay_triggers
        from jobs.enums import JobState
        from jobs.job_links import JobLink, register
        from jobs.models import BudgetEntry, CommitmentEntry, CostEntry, HistoryEntry
        from jobs.queries.calendar import phase_events
        from jobs.queries.found import register_sources

        register_sources()
        told_here.register_all()
        calendar.register(phase_events)
        keep_append_only(BudgetEntry, CommitmentEntry, CostEntry, HistoryEntry)
        under_way = frozenset(JobState) - {JobState.HANDED_OVER, JobState.CLOSED}
        register(JobLink("Progress", "jobs:progress", order=60))
        register(JobLink("Costs", "jobs:costs", order=70))
        register(JobLink("Looking back", "jobs:look-back", order=90, hidden_in=under_way))
        post_migrate.connect(lay_triggers, dispatch_uid="append_only")
