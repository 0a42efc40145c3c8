"""What is shown of a film that was read: every span, the pulls and doubts in words, the chart."""

import bisect
import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from breakwright.bootstrap.film_pages import bundled, corrected_reading, entry_of_break
from breakwright.model.errors import ImpossibleValue, InputRefused
from breakwright.model.film import Break, DisplayTrace, FilmReading, Span, SpanCorrection
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import FilmState, StudyState
from breakwright.web.work.film_bundles import open_bundle
from breakwright.web.work.tools import Tell, Tools

__all__ = ["chart", "review"]


def review(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:
    """Tell what the film ``given['film']`` says with the corrections ``given['corrections']``
    (ids of events), loads in ``given['unit']``."""
    from breakwright.report.film_words import break_lines, doubt_words, peak_words

    tell("looking through the film", 0.0)
    state, film = _film(given, tools)
    before, reading = _readings(given, tools, film)
    unit = ForceUnit(given["unit"])
    return {
        "facts": dataclasses.asdict(reading.facts),
        "displays": [
            _display(trace, machine)
            for trace, machine in zip(reading.displays, before.displays, strict=True)
        ],
        "total": [[s.start, s.end, s.lower, s.upper] for s in reading.total],
        "breaks": [
            {
                "number": found.number,
                "start": found.start,
                "end": found.end,
                "at": _seen_at(found, reading),
                "lower": found.lower,
                "upper": found.upper,
                "peak": peak_words(found, reading, unit),
                "lines": break_lines(found, reading, unit)[1:],
                **_entry(found, reading, state, film),
            }
            for found in reading.breaks
        ],
        "doubts": [
            {
                "code": doubt.code,
                "start": doubt.start,
                "end": doubt.end,
                "display": doubt.display,
                "words": doubt_words(doubt, reading, unit),
            }
            for doubt in reading.doubts
        ],
    }


def chart(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:
    """Draw load against time as SVG, for a page or a phone, light or dark."""
    from breakwright.report.charts.drawing import svg
    from breakwright.report.charts.film import film_figure
    from breakwright.report.charts.theme import DARK, LIGHT, PAGE, PHONE, Theme

    tell("the chart", 0.0)
    _, film = _film(given, tools)
    _, reading = _readings(given, tools, film)
    colours = DARK if given["theme"] == DARK.name else LIGHT
    size = PHONE if given["size"] == PHONE.name else PAGE
    figure = film_figure(reading, Theme(colours, size), unit=ForceUnit(given["unit"]))
    return {"svg": svg(figure), "alt": figure.alt, "note": figure.note}


def _film(given: Mapping[str, Any], tools: Tools) -> tuple[StudyState, FilmState]:
    state = tools.state()
    film = next((one for one in state.films if one.event == given["film"]), None)
    if film is None:
        raise ImpossibleValue("this reading of the film was taken back")
    return state, film


def _readings(
    given: Mapping[str, Any], tools: Tools, film: FilmState
) -> tuple[FilmReading, FilmReading]:
    """Return what the program read, and the same with the person's corrections."""
    bundle = open_bundle(tools.store, tools.folder, film)
    machine = bundled(bundle.form()).reading
    corrections = [
        SpanCorrection(
            display=body.display,
            start=body.start,
            end=body.end,
            shown=body.shown,
            value=None if body.value is None else float(body.value),
            reason=body.reason,
        )
        for key, body in film.corrections.items()
        if key in given["corrections"]
    ]
    return machine, corrected_reading(machine, corrections)


def _seen_at(found: Break, reading: FilmReading) -> float:
    """Return when the peak can be seen on all displays: a display may have gone out just then."""
    there = [s for s in reading.total if s.lower is not None and s.start <= found.peak_at]
    if not there or found.peak_at < there[-1].end:
        return found.peak_at
    return (there[-1].start + there[-1].end) / 2.0


def _entry(
    found: Break, reading: FilmReading, state: StudyState, film: FilmState
) -> dict[str, Any]:
    try:
        entry = entry_of_break(found, reading, state.toml, film=film.read.name)
    except InputRefused as refused:
        return {"entry": None, "problems": [dataclasses.asdict(p) for p in refused.problems]}
    return {"entry": dataclasses.asdict(entry), "problems": []}


def _display(trace: DisplayTrace, machine: DisplayTrace) -> dict[str, Any]:
    from breakwright.report.film_words import shown_words

    starts = [span.start for span in machine.spans]
    return {
        "name": trace.mark.name,
        "unit": trace.mark.unit,
        "decimals": trace.decimals,
        "lost": trace.lost,
        "dim": trace.dim,
        "spans": [
            {
                "start": span.start,
                "end": span.end,
                "shown": span.shown.value,
                "value": None if span.value is None else f"{span.value:.{trace.decimals}f}",
                "words": shown_words(span, trace),
                "sure": span.confidence,
                "frames": span.agreeing,
                "frozen": span.frozen,
                "corrected": span.corrected,
                "machine": _machine(span, machine, starts) if span.corrected else [],
            }
            for span in trace.spans
        ],
    }


def _machine(span: Span, machine: DisplayTrace, starts: Sequence[float]) -> list[str]:
    """Return what the program had read in the time of ``span``, each thing once."""
    from breakwright.report.film_words import shown_words

    first = max(0, bisect.bisect_right(starts, span.start) - 1)
    last = bisect.bisect_left(starts, span.end)
    words = (shown_words(one, machine) for one in machine.spans[first:last] if one.end > span.start)
    return list(dict.fromkeys(words))
