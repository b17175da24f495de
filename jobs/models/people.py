"""Who works here, in which role, and what does an hour of each cost?"""

from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models

from jobs.enums import Role
from jobs.fields import MoneyField


class PersonManager(BaseUserManager["Person"]):
    """Finds people by e-mail whatever its capitals, and makes them with a hashed password."""

    def get_by_natural_key(self, username: str | None) -> Person:
        return self.get(email__iexact=username or "")

    def create_person(self, *, email: str, name: str, role: str, password: str | None = None) -> Person:
        person = self.model(email=email.strip().lower(), name=name.strip(), role=role)
        person.set_password(password)
        person.save()
        return person


class Person(AbstractBaseUser):
    """Someone of the workshop who can log in."""

    email = models.EmailField(unique=True)
    name = models.CharField(max_length=80)
    role = models.CharField(max_length=12, choices=Role, default=Role.MAKER)
    is_active = models.BooleanField(default=True)
    hours_a_week = models.PositiveSmallIntegerField(default=40)
    version = models.PositiveIntegerField(default=1)

    objects: ClassVar[PersonManager] = PersonManager()

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name

    @property
    def is_owner(self) -> bool:
        return self.role == Role.OWNER

    @property
    def sees_prices(self) -> bool:
        """Makers log hours and costs; prices and margins are the owner's and the bookkeeper's."""
        return self.role in (Role.OWNER, Role.BOOKKEEPER)


class PersonRate(models.Model):
    """What an hour of this person costs the workshop, and is charged at, from a day on."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="rates")
    from_date = models.DateField()
    cost_rate = MoneyField()
    charge_rate = MoneyField()

    class Meta:
        ordering = ["person", "-from_date"]
        constraints = [
            models.UniqueConstraint(fields=["person", "from_date"], name="one_rate_a_person_and_day"),
            models.CheckConstraint(condition=models.Q(cost_rate__gte=0), name="person_cost_not_negative"),
            models.CheckConstraint(condition=models.Q(charge_rate__gte=0), name="person_charge_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.person} from {self.from_date}"


class LabourRate(models.Model):
    """A rate of the trade, for estimating before it is known who does the work."""

    name = models.CharField(max_length=60)
    from_date = models.DateField()
    cost_rate = MoneyField()
    charge_rate = MoneyField()
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["name", "-from_date"]
        constraints = [
            models.UniqueConstraint(fields=["name", "from_date"], name="one_rate_a_trade_and_day"),
            models.CheckConstraint(condition=models.Q(cost_rate__gte=0), name="trade_cost_not_negative"),
        ]

    def __str__(self) -> str:
        return self.name
