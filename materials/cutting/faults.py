"""What is wrong with a cutting job as put, said to the maker beside the line it belongs to."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One thing wrong with a problem: where it stands, and what to say beside it."""

    where: str
    index: int | None
    message: str


class CannotCut(ValueError):  # noqa: N818 - says what is so, as a maker would
    """The problem as put has no plan; `faults` say why, each beside the line it belongs to."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(fault.message for fault in faults))
        self.faults = faults


def in_mm(length_mm10: int) -> str:
    """A length for a message, in millimetres without a needless decimal.

    >>> in_mm(24005), in_mm(24000)
    ('2400.5 mm', '2400 mm')
    """
    whole, tenth = divmod(length_mm10, 10)
    return f"{whole}.{tenth} mm" if tenth else f"{whole} mm"
