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

__all__ = [
    "answer_dict",
    "answer_json",
    "answer_schema",
    "before_schema",
    "result_dict",
    "result_json",
    "result_schema",
]

_RESULTS = ("predict", "rig", "scales", "plan")


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
    return result_dict(answer, "answer")


def result_dict(result: object, name: str) -> dict[str, Any]:
    """Return any result dataclass as a dictionary; ``name`` stands for it in messages."""
    plain: dict[str, Any] = _plain(result, name)
    return plain


def answer_json(answer: Answer) -> str:
    """Return ``answer`` as JSON text; the same answer gives the same text."""
    return result_json(answer, "answer")


def result_json(result: object, name: str) -> str:
    """Return any result dataclass as JSON text; the same result gives the same text."""
    plain = result_dict(result, name)
    return json.dumps(plain, ensure_ascii=False, allow_nan=False, indent=2) + "\n"


def answer_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) that every ``answer_dict`` meets."""
    return result_schema("answer")


def result_schema(name: str) -> dict[str, Any]:
    """Return the schema of one result: answer, predict, rig, scales or plan."""
    source = files("breakwright.report").joinpath("schema").joinpath(f"{name}-1.json")
    schema: dict[str, Any] = json.loads(source.read_text(encoding="utf-8"))
    return schema


def before_schema() -> dict[str, Any]:
    """Return the schema of all four results before the first cut, as ``plan --json`` prints them.

    Each result keeps its own schema, with an ``$id`` of its own that its references hang on.
    """
    own = json.loads(
        files("breakwright.report").joinpath("schema").joinpath("before-1.json").read_text("utf-8")
    )
    schema: dict[str, Any] = {**own, "$defs": {name: result_schema(name) for name in _RESULTS}}
    return schema
