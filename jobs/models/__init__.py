"""What the jobs room keeps: workshop, people, clients, jobs and phases, hours, costs and the ledgers."""

from jobs.models.accounts import AccountLink, ApiToken, LogInAttempt, SecondFactor, SignIn, SpareCode
from jobs.models.clients import Client
from jobs.models.costs import CostEntry, Photo
from jobs.models.hours import TimeEntry
from jobs.models.jobs import Change, DoneMark, Job, Phase, PhaseList, PhaseListItem
from jobs.models.ledgers import BudgetEntry, CommitmentEntry
from jobs.models.people import LabourRate, Person, PersonRate
from jobs.models.records import HistoryEntry, NumberSeries, Outbox, OutboxAttachment
from jobs.models.sheets import LockedWeek, Note, PhoneMessage
from jobs.models.workshop import TaxRate, Workshop

__all__ = [
    "AccountLink",
    "ApiToken",
    "BudgetEntry",
    "Change",
    "Client",
    "CommitmentEntry",
    "CostEntry",
    "DoneMark",
    "HistoryEntry",
    "Job",
    "LabourRate",
    "LockedWeek",
    "LogInAttempt",
    "Note",
    "NumberSeries",
    "Outbox",
    "OutboxAttachment",
    "Person",
    "PersonRate",
    "Phase",
    "PhaseList",
    "PhaseListItem",
    "PhoneMessage",
    "Photo",
    "SecondFactor",
    "SignIn",
    "SpareCode",
    "TaxRate",
    "TimeEntry",
    "Workshop",
]
