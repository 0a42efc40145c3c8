"""The work behind the Answer page: the answer quick and whole, its charts, their drawings."""

import dataclasses
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from breakwright.bootstrap.bench import checked_source_of
from breakwright.bootstrap.sheets import (
    CEILING,
    LEVEL,
    RESAMPLES,
    SEED,
    answer_source,
    make_settings,
)
from breakwright.model.errors import InputRefused, Problem
from breakwright.report.json_form import answer_dict, result_dict
from breakwright.usecases.result import Answer
from breakwright.web.work.answers import answer_in, in_unit, result_of
from breakwright.web.work.tools import Tell, Tools

if TYPE_CHECKING:
    from breakwright.files.source import Source
    from breakwright.report.charts.figure import Figure
    from breakwright.usecases.settings import Settings

__all__ = ["answer", "answer_of", "chart_script", "charts", "drawing", "quick_answer"]

# The answer itself, then how many more pieces would settle it.
_ANSWERED = 0.8


def quick_answer(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """The quick interval for the readings whose digest is ``given['readings']``."""
    from breakwright.usecases.quick_answer import quick_answer as answer_quickly

    tell("a first look", 0.0)

    def reckon(source: "Source") -> Mapping[str, Any]:
        found = answer_quickly(source.study, _settings(), notices=source.notices)
        return {"answer": answer_dict(found)}

    return _unless_refused(given, tools, reckon)


def answer(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """The calibrated answer, the same as the command's, and how many more pieces would do."""
    from breakwright.usecases.settle import settle_study

    def whole(source: "Source") -> Mapping[str, Any]:
        found = answer_source(
            source, _settings(), progress=lambda doing, share: tell(doing, _ANSWERED * share)
        )
        tell("how many more pieces would settle it", _ANSWERED)
        settled = settle_study(
            source.study,
            found,
            seed=SEED,
            progress=lambda doing, share: tell(doing, _ANSWERED + (1.0 - _ANSWERED) * share),
        )
        return {
            "answer": answer_dict(found),
            "settle": [result_dict(one, "settle") for one in settled],
        }

    return _unless_refused(given, tools, whole)


def charts(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """Vega-Lite specifications of the answer in job ``given['job']``, with words for each."""
    tell("the charts", 0.0)
    return {
        "charts": [
            {
                "name": figure.name,
                "title": figure.title,
                "note": figure.note,
                "alt": figure.alt,
                "spec": figure.spec,
            }
            for figure in _figures(given, tools)
        ]
    }


def drawing(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """One chart as SVG, for pages without scripts; ``svg`` is None where there is no such one."""
    from breakwright.report.charts.drawing import svg

    tell("the drawing", 0.0)
    chosen = (figure for figure in _figures(given, tools) if figure.name == given["name"])
    figure = next(chosen, None)
    return {"svg": None if figure is None else svg(figure)}


def chart_script(given: Mapping[str, Any], tell: Tell, tools: Tools) -> Mapping[str, Any]:
    """Write the drawing library for browsers, which comes with the one for files, to disk."""
    import vl_convert

    from breakwright.bootstrap.bench import write_whole

    tell("the drawing library", 0.0)
    path = tools.made("js").with_name(given["name"])
    bundle: str = vl_convert.javascript_bundle("window.vegaEmbed = vegaEmbed;")
    write_whole(path, bundle.encode())
    return {"name": path.name}


def _settings() -> "Settings":
    return make_settings(level=LEVEL, seed=SEED, resamples=RESAMPLES, ceiling=CEILING)


def _unless_refused(
    given: Mapping[str, Any], tools: Tools, reckon: Callable[["Source"], Mapping[str, Any]]
) -> Mapping[str, Any]:
    """Readings that allow no answer yet are a result too: what stands in the way."""
    try:
        return {"problems": [], **reckon(checked_source_of(tools.state_of(given["readings"])))}
    except InputRefused as refused:
        return {"answer": None, "problems": [_plain(p) for p in refused.problems]}


def _plain(problem: Problem) -> Mapping[str, Any]:
    return dataclasses.asdict(problem)


def _figures(given: Mapping[str, Any], tools: Tools) -> "tuple[Figure, ...]":
    from breakwright.report.charts.every import every_figure
    from breakwright.report.charts.theme import DARK, LIGHT, PAGE, PHONE, Theme

    colours = DARK if given["theme"] == DARK.name else LIGHT
    size = PHONE if given["size"] == PHONE.name else PAGE
    return every_figure(answer_of(given, tools), Theme(colours, size))


def answer_of(given: Mapping[str, Any], tools: Tools) -> Answer:
    """Return the answer that job ``given['job']`` made, in the unit ``given['unit']``."""
    found = answer_in(result_of(tools.store.job(given["job"])))
    return in_unit(found, given["unit"])
