"""Which operations were agreed for which phases? The rooms that price work say so; this one learns from it.

Each source registers when the program starts (`AppConfig.ready`), so that this room need not know the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from jobs.progress import AgreedWork

Source = Callable[[Sequence[int]], Iterable[AgreedWork]]
"""Given the ids of phases, their agreed lines of labour, in one query."""

_sources: list[Source] = []


def register(source: Source) -> None:
    """From now on its lines are learnt from as well."""
    if source not in _sources:
        _sources.append(source)


def agreed_work(phases: Sequence[int]) -> list[AgreedWork]:
    """All agreed lines of labour of these phases."""
    return [line for source in _sources for line in source(phases)]
