"""What a film told, as plain dictionaries and lists, there and back: the file ``film.json``."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.model.errors import ImpossibleValue
from breakwright.model.film import (
    Break,
    DisplayMark,
    DisplayTrace,
    FilmDoubt,
    FilmFacts,
    FilmReading,
    PeakWindow,
    Quad,
    Shown,
    Span,
    SpanCorrection,
    SumSpan,
)
from breakwright.model.trial import Ending
from breakwright.report.json_form import result_dict, result_schema
from breakwright.version import VERSION

__all__ = ["SCHEMA", "FilmSeen", "corrections_from", "film_form", "film_from", "film_schema"]

SCHEMA = "breakwright/film/1"


@dataclass(frozen=True, slots=True)
class FilmSeen:
    """A film that was read: its file's ``name`` without folders, and the ``sha256`` of its
    bytes. What happens at t in it happened at t + ``offset`` (s) on the first film's clock, within
    ``uncertainty``."""

    name: str
    sha256: str
    offset: float = 0.0
    uncertainty: float = 0.0


def film_form(
    reading: FilmReading,
    *,
    films: Sequence[FilmSeen],
    corrections: Sequence[SpanCorrection] = (),
) -> dict[str, Any]:
    """Return the reading as a dictionary that ``film_schema`` describes: loads of the sum in N,
    values of a display in its own unit, times in s.

    ``reading`` is the machine's; ``corrections`` are a person's, kept beside it and not applied.
    Raises ImpossibleValue where a number is infinite or not a number.
    """
    return {
        "schema": SCHEMA,
        "version": VERSION,
        "films": [result_dict(film, "film") for film in films],
        **result_dict(reading, "reading"),
        "corrections": [result_dict(one, "correction") for one in corrections],
    }


def film_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) that every ``film_form`` meets."""
    return result_schema("film")


def film_from(form: Mapping[str, Any]) -> FilmReading:
    """Return the reading that ``form`` was made of, without its corrections.

    Raises ImpossibleValue for what is no such form, with the place.
    """
    if form.get("schema") != SCHEMA:
        raise ImpossibleValue(
            "this is not the reading of a film: its schema is "
            f"{form.get('schema')!r}, not {SCHEMA!r}"
        )
    try:
        return FilmReading(
            facts=FilmFacts(**form["facts"]),
            displays=tuple(_trace(one) for one in form["displays"]),
            total=tuple(SumSpan(**one) for one in form["total"]),
            breaks=tuple(_break(one) for one in form["breaks"]),
            doubts=tuple(FilmDoubt(**one) for one in form["doubts"]),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as wrong:
        raise ImpossibleValue(f"the reading of a film is damaged: {wrong!r}") from wrong


def corrections_from(form: Mapping[str, Any]) -> tuple[SpanCorrection, ...]:
    """Return what a person corrected. Raises ImpossibleValue for what is no such form."""
    try:
        return tuple(
            SpanCorrection(**{**one, "shown": Shown(one["shown"])}) for one in form["corrections"]
        )
    except (KeyError, TypeError, ValueError) as wrong:
        raise ImpossibleValue(f"the corrections of a film are damaged: {wrong!r}") from wrong


def _trace(form: Mapping[str, Any]) -> DisplayTrace:
    quad = {name: (float(x), float(y)) for name, (x, y) in form["mark"]["quad"].items()}
    return DisplayTrace(
        **{
            **form,
            "mark": DisplayMark(**{**form["mark"], "quad": Quad(**quad)}),
            "spans": tuple(Span(**{**one, "shown": Shown(one["shown"])}) for one in form["spans"]),
        }
    )


def _break(form: Mapping[str, Any]) -> Break:
    first, last = form["moment"]
    return Break(
        **{
            **form,
            "moment": (first, last),
            "windows": tuple(
                PeakWindow(**{**one, "shown": Shown(one["shown"])}) for one in form["windows"]
            ),
            "ending": Ending(form["ending"]),
            "slips": tuple(form["slips"]),
        }
    )
