"""The JSON form against its schema, checked by jsonschema (draft 2020-12)."""

import dataclasses
import json
import math
import types
import typing
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest

from breakwright.model.errors import ImpossibleValue
from breakwright.report.json_form import answer_dict, answer_json, answer_schema
from breakwright.usecases.result import Answer

from . import samples


@pytest.mark.parametrize("name", sorted(samples.ALL))
def test_every_sample_meets_the_schema(name: str) -> None:
    schema = answer_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    checker = jsonschema.Draft202012Validator(
        schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )
    checker.validate(json.loads(answer_json(samples.ALL[name])))


def test_a_field_too_many_or_too_few_is_refused() -> None:
    plain = answer_dict(samples.full())
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**plain, "extra": 1}, answer_schema())
    plain["groups"][0].pop("median")
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(plain, answer_schema())


def _dataclasses(cls: type) -> Iterator[type]:
    yield cls
    pending: list[Any] = list(typing.get_type_hints(cls).values())
    while pending:
        hint = pending.pop()
        if dataclasses.is_dataclass(hint):
            yield from _dataclasses(typing.cast(type, hint))
        pending += [a for a in typing.get_args(hint) if a not in (types.NoneType, Ellipsis)]


def test_the_schema_has_every_field_of_every_dataclass_with_words() -> None:
    schema = answer_schema()
    parts = {**schema["$defs"], "Answer": schema}
    found = set(_dataclasses(Answer))
    assert len(found) > 15
    for cls in found:
        part = parts[cls.__name__]
        names = [field.name for field in dataclasses.fields(cls)]
        assert list(part["properties"]) == names
        assert part["required"] == names
        assert part["additionalProperties"] is False
        assert all(part["properties"][name]["description"] for name in names)


def test_numbers_keep_their_full_precision() -> None:
    plain = json.loads(answer_json(samples.full()))
    assert plain["comparisons"][0]["ratio"]["ratio"] == 1.441342
    assert plain["groups"][0]["median"]["estimate"] == samples.full().groups[0].median.estimate


def test_infinity_is_refused_and_named() -> None:
    answer = samples.full()
    broken = dataclasses.replace(answer, worth=math.inf)
    with pytest.raises(ImpossibleValue, match=r"answer\.worth is inf"):
        answer_dict(broken)


def test_the_same_answer_gives_the_same_text() -> None:
    assert answer_json(samples.full()) == answer_json(samples.full())
    plain = answer_dict(samples.full())
    assert plain["pieces"][0]["date"] == "2025-03-01"
    assert plain["unit"] == "N"
    assert plain["comparisons"][0]["verdict"]["kind"] == "stronger-by-more-than-matters"
