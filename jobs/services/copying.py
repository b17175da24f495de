"""Copy a job: its phases here, and what other rooms keep by phase through the copiers they register."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from jobs.models import Phase

Copier = Callable[[Mapping[Phase, Phase]], None]

_copiers: list[Copier] = []


def register_copier(copier: Copier) -> None:
    """From now on a copied job takes along what this copier copies, in the same transaction.

    It is given each old phase with its new one.
    """
    if copier not in _copiers:
        _copiers.append(copier)


def copy_phases(phases: Mapping[Phase, Phase]) -> None:
    """Let every room copy what it keeps by phase."""
    for copier in _copiers:
        copier(phases)
