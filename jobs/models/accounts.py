"""How does somebody get in, and from where are they in?"""

from __future__ import annotations

from django.db import models

from jobs.browsers import browser_words
from jobs.models.people import Person


class LogInAttempt(models.Model):
    """A try to log in, good or bad: what throttling counts and the log keeps."""

    at = models.DateTimeField()
    email = models.CharField(max_length=254)
    address = models.GenericIPAddressField(null=True)
    known_device = models.BooleanField(default=False)
    succeeded = models.BooleanField()

    class Meta:
        indexes = [
            models.Index(fields=["email", "at"], name="attempt_by_email"),
            models.Index(fields=["address", "at"], name="attempt_by_address"),
        ]

    def __str__(self) -> str:
        return f"{self.email} at {self.at}"


class AccountLink(models.Model):
    """A link to choose a password with, for an invitation or after one was forgotten. Kept as its hash."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="account_links")
    token_sha256 = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"link of {self.person}"


class SignIn(models.Model):
    """A browser that is logged in, for the list from which it can be ended."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="sign_ins")
    session_key = models.CharField(max_length=40, unique=True)
    at = models.DateTimeField()
    address = models.GenericIPAddressField(null=True)
    browser = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.person} since {self.at}"

    @property
    def browser_words(self) -> str:
        """Firefox on Windows."""
        return browser_words(self.browser)


class SecondFactor(models.Model):
    """The secret of a person's code generator (TOTP, RFC 6238). It counts once a first code was right."""

    person = models.OneToOneField(Person, on_delete=models.CASCADE, related_name="second_factor")
    secret = models.CharField(max_length=64)
    confirmed_at = models.DateTimeField(null=True, blank=True)
    last_step = models.BigIntegerField(default=0)

    def __str__(self) -> str:
        return f"second factor of {self.person}"


class SpareCode(models.Model):
    """A code to get in with once when the generator is lost. Kept as its hash."""

    factor = models.ForeignKey(SecondFactor, on_delete=models.CASCADE, related_name="spare_codes")
    code_sha256 = models.CharField(max_length=64)
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"spare code {self.pk}"


class ApiToken(models.Model):
    """What a script shows instead of a password. It acts as its person, within its scopes."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="api_tokens")
    name = models.CharField("what it is for", max_length=80)
    token_sha256 = models.CharField(max_length=64, unique=True)
    scopes = models.JSONField(default=list)
    made_at = models.DateTimeField()
    last_used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name
