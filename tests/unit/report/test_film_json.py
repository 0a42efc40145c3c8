"""What a film told, there and back through JSON and its schema."""

import dataclasses
import json
import types
import typing
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest

from breakwright.model.errors import ImpossibleValue
from breakwright.model.film import FilmReading, Shown, SpanCorrection
from breakwright.report.film_json import (
    FilmSeen,
    corrections_from,
    film_form,
    film_from,
    film_schema,
)

from . import film_samples

SEEN = (FilmSeen("peg-C1.mp4", "0" * 64),)
CORRECTION = SpanCorrection("left scale", 1.0, 2.0, Shown.VALUE, 20.5, "glare")


def there_and_back(reading: FilmReading) -> dict[str, Any]:
    form = film_form(reading, films=SEEN, corrections=[CORRECTION])
    plain: dict[str, Any] = json.loads(json.dumps(form, allow_nan=False))
    return plain


@pytest.mark.parametrize("make", [film_samples.screen_lost, film_samples.broke])
def test_a_reading_survives_json_and_meets_the_schema(make: Any) -> None:
    reading = make()
    form = there_and_back(reading)
    schema = film_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(form, schema)
    assert film_from(form) == reading
    assert corrections_from(form) == (CORRECTION,)


def _dataclasses(cls: type) -> Iterator[type]:
    yield cls
    pending: list[Any] = list(typing.get_type_hints(cls).values())
    while pending:
        hint = pending.pop()
        if dataclasses.is_dataclass(hint):
            yield from _dataclasses(typing.cast(type, hint))
        pending += [a for a in typing.get_args(hint) if a not in (types.NoneType, Ellipsis)]


def test_the_schema_has_every_field_of_every_part() -> None:
    defs = film_schema()["$defs"]
    parts = [set(part["properties"]) for part in defs.values() if "properties" in part]
    parts += [set(defs["display"]["properties"]["mark"]["properties"])]
    parts += [set(defs["display"]["properties"]["mark"]["properties"]["quad"]["properties"])]
    kinds = {*_dataclasses(FilmReading), FilmSeen, SpanCorrection} - {FilmReading}
    assert len(kinds) == 11
    for kind in kinds:
        assert {field.name for field in dataclasses.fields(kind)} in parts, kind.__name__


@pytest.mark.parametrize(
    "damage",
    [
        {"schema": "breakwright/answer/1"},
        {"facts": {}},
        {"displays": [{"mark": {}}]},
        {"total": [{"start": 0.0}]},
        {"doubts": None},
    ],
)
def test_what_is_no_such_form_is_refused(damage: dict[str, Any]) -> None:
    with pytest.raises(ImpossibleValue, match="film"):
        film_from({**there_and_back(film_samples.broke()), **damage})
