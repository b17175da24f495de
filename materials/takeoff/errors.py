"""What must be measured, or chosen, again?"""

from __future__ import annotations


class MeasureAgain(ValueError):  # noqa: N818 - named for what the maker must do
    """The inputs can't be built; the message says what to measure again, `field` which input it stands by."""

    def __init__(self, message: str, field: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.field = field
