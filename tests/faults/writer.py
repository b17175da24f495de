"""Logs hours one after another, says the key of each once it is stored, and waits to be killed."""

from __future__ import annotations

import os
import sys
import uuid

import django


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    django.setup()
    from django.utils import timezone

    from jobs.models import Person, Phase
    from jobs.services.hours import Work, log_hours

    person, phase = Person.objects.get(), Phase.objects.select_related("job").get()
    while True:
        key = uuid.uuid4()
        log_hours(person=person, key=key, work=Work(phase), on_date=timezone.localdate(), seconds=60)
        sys.stdout.write(f"{key}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
