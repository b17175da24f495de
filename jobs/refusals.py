"""How does a service say no? In words for the person who asked, never as a fault of the program."""

from __future__ import annotations


class RefusedError(Exception):
    """It cannot be done as things stand; the message says why, and what would help.

    `beside` names the field that the message belongs beside, if one was typed amiss.
    """

    def __init__(self, words: str = "", *, beside: str = "") -> None:
        super().__init__(words)
        self.beside = beside


class AskError(RefusedError):
    """It cannot be done before the person has answered. `asks` names the field that is wanted."""

    def __init__(self, words: str, *, asks: str) -> None:
        super().__init__(words)
        self.asks = asks
