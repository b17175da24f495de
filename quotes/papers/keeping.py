"""How is a paper kept as JSON and read back the same, decimals to the last digit?"""

from __future__ import annotations

import types
import typing
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any, TypeVar

T = TypeVar("T")


def to_kept(value: Any) -> Any:
    """A frozen dataclass as plain JSON: decimals and dates as text, tuples as lists."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_kept(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [to_kept(item) for item in value]
    if isinstance(value, Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, date) else value


def from_kept(shape: type[T], kept: Any) -> T:
    """The dataclass that `to_kept` made the JSON from."""
    return typing.cast(T, _read(shape, kept))


@cache
def _hints(shape: Any) -> dict[str, Any]:
    """The types of a dataclass's fields; working them out takes longer than reading a line."""
    return typing.get_type_hints(shape)


def _read(shape: Any, kept: Any) -> Any:
    origin, inner = typing.get_origin(shape), typing.get_args(shape)
    if origin is types.UnionType:
        return None if kept is None else _read(next(each for each in inner if each is not type(None)), kept)
    if origin is tuple:
        return tuple(_read(inner[0], item) for item in kept)
    if isinstance(shape, type) and is_dataclass(shape):
        hints = _hints(shape)
        return typing.cast(Any, shape)(**{name: _read(hints[name], kept[name]) for name in kept})
    if shape is Decimal:
        return Decimal(kept)
    return date.fromisoformat(kept) if shape is date else kept
