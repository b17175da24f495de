"""How do inputs and results go into JSON and come back the same?"""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from functools import cache
from typing import Any, TypeVar, cast

from materials.takeoff.errors import MeasureAgain
from materials.takeoff.shapes import Shape

T = TypeVar("T")


@cache
def _converter() -> Any:
    from cattrs import Converter  # slow import
    from cattrs.strategies import configure_tagged_union

    converter = Converter(forbid_extra_keys=True)
    converter.register_unstructure_hook(Decimal, str)
    converter.register_structure_hook(Decimal, lambda value, _: Decimal(str(value)))
    configure_tagged_union(Shape, converter, tag_name="shape")
    return converter


def to_json(value: object) -> dict[str, Any]:
    """A frozen dataclass as it comes back out of JSON, so that both compare equal; decimals become text."""
    return cast(dict[str, Any], json.loads(json.dumps(_converter().unstructure(value))))


def from_json(data: Mapping[str, Any], kind: type[T]) -> T:
    """The dataclass again; raises `MeasureAgain` where the data was written by rules no longer known."""
    from cattrs.errors import BaseValidationError

    try:
        return cast(T, _converter().structure(data, kind))
    except (BaseValidationError, InvalidOperation, KeyError, TypeError, ValueError) as error:
        raise MeasureAgain("What was entered can't be read any more. Enter it again.") from error
