"""Page, terminal, bench sheet and JSON of the four results."""

import dataclasses
import io
import json
import re
import types
import typing
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest
import referencing
from rich.console import Console

from breakwright.model.errors import ImpossibleValue
from breakwright.report.before_page import before_page
from breakwright.report.before_sheets import before_sheet, dangers, predict_sheet, rig_sheet
from breakwright.report.bench_sheet import bench_sheet
from breakwright.report.json_form import before_schema, result_json, result_schema
from breakwright.report.passage_view import passages_view
from breakwright.usecases.before import Before
from breakwright.usecases.plan_result import PlanResult
from breakwright.usecases.predict_result import PredictResult
from breakwright.usecases.rig_result import RigResult
from breakwright.usecases.scales_result import ScalesResult

from . import before_samples

RESULTS = {
    "predict": PredictResult,
    "rig": RigResult,
    "scales": ScalesResult,
    "plan": PlanResult,
}


def bench(found: Before, scales: tuple[str, ...] = ("left", "right")) -> str:
    return bench_sheet(
        found.plan,
        scales=scales,
        cautions=found.rig.cautions,
        dangers=dangers(found),
        invented=True,
        made="Made so.",
    )


@pytest.mark.parametrize("name", sorted(RESULTS))
@pytest.mark.parametrize("which", ["demo", "mended"])
def test_every_result_meets_its_schema(name: str, which: str) -> None:
    result = getattr(getattr(before_samples, which)(), name)
    schema = result_schema(name)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(json.loads(result_json(result, name)), schema)


def test_all_four_meet_theirs_together() -> None:
    schema = before_schema()
    registry: Any = referencing.Registry().with_resources(
        (part["$id"], referencing.Resource.from_contents(part)) for part in schema["$defs"].values()
    )
    checker = jsonschema.Draft202012Validator(schema, registry=registry)
    text = json.loads(result_json(before_samples.demo(), "before"))
    checker.validate(text)
    with pytest.raises(jsonschema.ValidationError):
        checker.validate({**text, "plan": {}})


def _dataclasses(cls: type) -> Iterator[type]:
    yield cls
    pending: list[Any] = list(typing.get_type_hints(cls).values())
    while pending:
        hint = pending.pop()
        if dataclasses.is_dataclass(hint):
            yield from _dataclasses(typing.cast(type, hint))
        pending += [a for a in typing.get_args(hint) if a not in (types.NoneType, Ellipsis)]


@pytest.mark.parametrize("name", sorted(RESULTS))
def test_the_schema_has_every_field_with_words(name: str) -> None:
    schema = result_schema(name)
    top = RESULTS[name]
    parts = {**schema["$defs"], top.__name__: schema}
    for cls in set(_dataclasses(top)):
        part = parts[cls.__name__]
        names = [field.name for field in dataclasses.fields(cls)]
        assert list(part["properties"]) == names
        assert part["required"] == names
        assert part["additionalProperties"] is False
        assert all(part["properties"][field]["description"] for field in names)


def test_infinity_is_refused_and_named() -> None:
    broken = dataclasses.replace(before_samples.demo().scales, limit=float("inf"))
    with pytest.raises(ImpossibleValue, match=r"scales\.limit is inf"):
        result_json(broken, "scales")


def printed(view: Any, *, width: int = 80, colour: bool = False) -> str:
    out = io.StringIO()
    console = Console(
        file=out,
        width=width,
        force_terminal=colour,
        color_system="standard" if colour else None,
        highlight=False,
        markup=False,
    )
    console.print(view)
    return out.getvalue()


@pytest.mark.parametrize("which", ["demo", "mended"])
def test_the_terminal_needs_80_columns_and_no_colour(which: str) -> None:
    found = getattr(before_samples, which)()
    text = printed(passages_view(before_sheet(found, version="1.2.3")))

    assert max(len(line.rstrip()) for line in text.splitlines()) <= 80
    assert "\x1b" not in text
    assert "Made by Breakwright 1.2.3, seed" in text
    assert "Not a rating for lifting people" in text


def test_danger_is_red_on_a_terminal_and_in_words_everywhere() -> None:
    view = passages_view(rig_sheet(before_samples.demo().rig, version="1"))

    coloured = printed(view, colour=True)
    assert re.search(r"\x1b\[1;31m ! Danger\. «rail over its supports»", coloured)
    assert " ! Danger. «rail over its supports»" in printed(view)


def test_the_page_is_whole_and_needs_nothing_from_outside() -> None:
    found = before_samples.demo()
    page = before_page(before_sheet(found, version="1.2.3"))

    assert page.lstrip().startswith("<!DOCTYPE html>")
    assert not re.search(r'(?:src|href)="(?!#)', page)
    assert "<script" not in page
    assert page.count("<figure>") == 3
    for key in ("short", "predict", "race", "margins", "frame", "scales", "pieces", "cautions"):
        assert f'id="h-{key}"' in page
    assert "Invented study." in page
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(set(ids)) == len(ids)


def test_names_are_escaped() -> None:
    found = before_samples.demo()
    rows = tuple(dataclasses.replace(row, group="<b>&") for row in found.plan.order)
    named = dataclasses.replace(
        found, plan=dataclasses.replace(found.plan, title="<i>x", order=rows)
    )

    for page in (before_page(before_sheet(named, version="1")), bench(named, ("<u>",))):
        assert "<i>x" not in page
        assert "<b>&" not in page
        assert "<u>" not in page
        assert "&lt;b&gt;&amp;" in page


def test_a_prediction_alone_has_its_page_and_chart() -> None:
    page = before_page(predict_sheet(before_samples.demo().predict, version="1"))

    assert page.count("<figure>") == 1
    assert "rail over its supports" in page


def test_the_bench_sheet_has_a_line_for_each_piece_with_its_boxes() -> None:
    found = before_samples.demo()
    page = bench(found)

    assert page.count('<th scope="row">') == len(found.plan.order)
    labels = re.findall(r'<th scope="row">([^<]+)</th>', page)
    assert labels == [row.label for row in found.plan.order]
    for box in ("over range", "went dark", "broke elsewhere"):
        assert page.count(f'aria-label="empty box: {box}"') == len(labels)
    assert page.count('<td class="blank">') == 2 * len(labels)
    assert page.count('<tr class="day">') == 1
    for caution in found.rig.cautions:
        assert caution.text.replace("'", "&#39;") in page


def test_the_bench_sheet_says_what_must_be_cured_first() -> None:
    assert "Not yet: cure this first" in bench(before_samples.demo())
    assert "Not yet" not in bench(before_samples.mended())


def test_a_bench_without_named_scales_has_one_column_of_loads() -> None:
    found = before_samples.mended()

    page = bench(found, ())

    assert page.count('<td class="blank">') == len(found.plan.order)
    assert "Write the highest number that the display shows." in page


def test_the_same_results_give_the_same_bytes() -> None:
    found = before_samples.demo()
    assert before_page(before_sheet(found, version="1")) == before_page(
        before_sheet(found, version="1")
    )
    assert bench(found) == bench(found)
