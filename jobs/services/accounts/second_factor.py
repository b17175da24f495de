"""A second factor: a code from a generator the person carries (TOTP, RFC 6238), and spare codes."""

from __future__ import annotations

import hashlib
import secrets
from datetime import datetime

import pyotp
from django.db import transaction

from jobs import history
from jobs.models import Person, SecondFactor, SpareCode

SPARE_CODES = 8
STEP_SECONDS = 30
DRIFT_STEPS = 1


class WrongCodeError(Exception):
    """The code is not the generator's present one, or was used before."""


def _hash(code: str) -> str:
    return hashlib.sha256(code.replace(" ", "").replace("-", "").lower().encode()).hexdigest()


def begin(person: Person) -> SecondFactor:
    """A new secret to be read into a generator; it counts only once `confirm` has seen a code of it."""
    factor, _ = SecondFactor.objects.update_or_create(
        person=person, defaults={"secret": pyotp.random_base32(), "confirmed_at": None, "last_step": 0}
    )
    return factor


def address_for_generator(factor: SecondFactor, workshop_name: str) -> str:
    """What the picture code holds: an otpauth address."""
    return pyotp.TOTP(factor.secret, name=factor.person.email, issuer=workshop_name).provisioning_uri()


@transaction.atomic
def confirm(*, person: Person, code: str, now: datetime) -> list[str]:
    """From now on a code is asked for; returns spare codes, shown this once. Raises WrongCodeError."""
    factor = SecondFactor.objects.select_for_update().get(person=person)
    _use_step(factor, code, now)
    factor.confirmed_at = now
    factor.save(update_fields=["confirmed_at"])
    factor.spare_codes.all().delete()
    codes = [secrets.token_hex(8) for _ in range(SPARE_CODES)]
    SpareCode.objects.bulk_create(SpareCode(factor=factor, code_sha256=_hash(code)) for code in codes)
    history.record(person=person, thing=person, action="turned the second factor on")
    return codes


def is_asked_of(person: Person) -> bool:
    """Whether the person must give a code besides the password."""
    return SecondFactor.objects.filter(person=person, confirmed_at__isnull=False).exists()


@transaction.atomic
def check(*, person: Person, code: str, now: datetime) -> None:
    """Accept the generator's present code, or a spare one, each only once. Raises WrongCodeError."""
    factor = SecondFactor.objects.select_for_update().get(person=person, confirmed_at__isnull=False)
    spare = factor.spare_codes.filter(code_sha256=_hash(code), used_at=None).first()
    if spare:
        spare.used_at = now
        spare.save(update_fields=["used_at"])
        history.record(person=person, thing=person, action="used a spare code")
        return
    _use_step(factor, code, now)


def _use_step(factor: SecondFactor, code: str, now: datetime) -> None:
    """A code is good for its own half minute and its neighbours, and only once (RFC 6238, section 5.2)."""
    generator, present = pyotp.TOTP(factor.secret), int(now.timestamp()) // STEP_SECONDS
    given = code.replace(" ", "")
    for step in range(present - DRIFT_STEPS, present + DRIFT_STEPS + 1):
        matches = secrets.compare_digest(generator.generate_otp(step).encode(), given.encode())
        if matches and step > factor.last_step:
            factor.last_step = step
            factor.save(update_fields=["last_step"])
            return
    raise WrongCodeError


@transaction.atomic
def turn_off(*, person: Person, by: Person) -> None:
    """Only the password is asked for from now on."""
    deleted, _ = SecondFactor.objects.filter(person=person).delete()
    if deleted:
        history.record(person=by, thing=person, action="turned the second factor off")
