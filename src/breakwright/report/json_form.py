"""An answer as plain dictionaries and lists, ready for JSON: full precision, no infinity."""

import dataclasses
import datetime as dt
import json
import math
from collections.abc import Mapping
from enum import Enum
from importlib.resources import files
from typing import Any

from breakwright.model.errors import ImpossibleValue
from breakwright.usecases.result import Answer

__all__ = ["answer_dict", "answer_json", "answer_schema"]


def _plain(value: object, path: str) -> Any:
    # An enum is a str here as well, so it must be asked for first.
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, bool | int | str):
        return value
    if hasattr(value, "item") and not isinstance(value, float):
        return _plain(value.item(), path)
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ImpossibleValue(f"{path} is {value}; 'there is none' is written as None")
        return float(value)
    if isinstance(value, dt.date):
        return value.isoformat()
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: _plain(getattr(value, field.name), f"{path}.{field.name}")
            for field in dataclasses.fields(value)
        }
    if isinstance(value, Mapping):
        return {str(key): _plain(item, f"{path}.{key}") for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item, f"{path}[{i}]") for i, item in enumerate(value)]
    raise ImpossibleValue(f"{path} holds a {type(value).__name__}, which JSON cannot")


def answer_dict(answer: Answer) -> dict[str, Any]:
    """Return ``answer`` as a dictionary with its fields in their own order (loads in N).

    Raises ImpossibleValue where a number is infinite or not a number.
    """
    plain: dict[str, Any] = _plain(answer, "answer")
    return plain


def answer_json(answer: Answer) -> str:
    """Return ``answer`` as JSON text; the same answer gives the same text."""
    return json.dumps(answer_dict(answer), ensure_ascii=False, allow_nan=False, indent=2) + "\n"


def answer_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) that every ``answer_dict`` meets."""
    source = files("breakwright.report").joinpath("schema").joinpath("answer-1.json")
    schema: dict[str, Any] = json.loads(source.read_text(encoding="utf-8"))
    return schema
