"""Which rows answer to the words typed, whatever their capitals and accents?

Databases know no capitals but those of English without being told: SQLite never, PostgreSQL in some of its
locales. So both sides are folded: “ZOË” and “zoe” are one word, “Træhus” and “traehus”.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.signals import connection_created
from django.db.models import Func, Lookup, Model, QuerySet, TextField

Row = TypeVar("Row", bound=Model)
MOST_WORDS = 8
STROKES = {"Ø": "O", "ø": "o", "Ł": "L", "ł": "l", "Đ": "D", "đ": "d", "ı": "i"}
TWO_IN_ONE = {"ß": "ss", "ẞ": "ss", "Æ": "ae", "æ": "ae", "Œ": "oe", "œ": "oe"}
_APART = str.maketrans(STROKES | TWO_IN_ONE)
_ACCENTS = re.compile("[\u0300-\u036f]")
_IN_SQLITE = "kerfbook_answers"

if TYPE_CHECKING:
    TextLookup = Lookup[str]
else:
    TextLookup = Lookup  # subscriptable for the type checker alone


def folded(words: str | None) -> str:
    """The words in small letters without accents."""
    if not words or words.isascii():
        return (words or "").lower()
    return _ACCENTS.sub("", unicodedata.normalize("NFKD", words.translate(_APART))).casefold()


def answers(text: str, words: str) -> bool:
    """Whether the text holds each of the words, which are folded already."""
    small = folded(text)
    return all(word in small for word in words.split())


def answering(rows: QuerySet[Row], words: str, *fields: str) -> QuerySet[Row]:
    """The rows in which each of the words stands in one of the fields; a ninth word is not looked at."""
    some = words.split()[:MOST_WORDS]
    return rows.filter(Answers(_Together(*fields), " ".join(some))) if some else rows


class _Together(Func):
    """The fields one after the other, with a blank between that no word reaches over."""

    template = "(%(expressions)s)"
    arg_joiner = " || ' ' || "
    output_field = TextField()


class Answers(TextLookup):
    """Whether the text holds each of the words, all folded."""

    def as_sqlite(self, compiler: Any, connection: BaseDatabaseWrapper) -> tuple[str, Sequence[Any]]:
        text, params = self.process_lhs(compiler, connection)
        return f"{_IN_SQLITE}({text}, %s)", [*params, " ".join(map(folded, self.rhs.split()))]

    def as_postgresql(self, compiler: Any, connection: BaseDatabaseWrapper) -> tuple[str, Sequence[Any]]:
        text, params = self.process_lhs(compiler, connection)
        words = self.rhs.split()
        holds = f"strpos({_in_postgresql(text)}, {_in_postgresql('%s')}) > 0"
        return " AND ".join([holds] * len(words)), [each for word in words for each in (*params, word)]


def _in_postgresql(text: str) -> str:
    """The same folding in SQL, that needs no extension and whatever the locale of the database."""
    for letter, two in TWO_IN_ONE.items():
        text = f"replace({text}, '{letter}', '{two}')"
    text = f"translate({text}, '{''.join(STROKES)}', '{''.join(STROKES.values())}')"
    return f"lower(regexp_replace(normalize({text}, NFKD), '[\\u0300-\\u036f]', '', 'g'))"


def _teach(connection: BaseDatabaseWrapper, **_: Any) -> None:
    if connection.vendor == "sqlite":
        connection.connection.create_function(_IN_SQLITE, 2, answers, deterministic=True)


connection_created.connect(_teach, dispatch_uid="folding")
