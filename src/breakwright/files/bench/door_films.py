"""What is refused at the store's door of films that were read, corrected and accepted."""

import json
import re

from breakwright.files.bench.door_pieces import text_problems
from breakwright.files.bench.known import Known
from breakwright.files.nearest import listed
from breakwright.model.errors import Problem
from breakwright.model.event import FilmAccepted, FilmRead, SpanCorrected, VideoAdded
from breakwright.model.film import Shown

__all__ = ["accepted_problems", "corrected_problems", "film_problems"]

FILM = "film"
_SUM = re.compile(r"[0-9a-f]{64}")
# As displays show numbers: no thousands, no exponent.
_VALUE = re.compile(r"-?\d{1,9}(\.\d{1,6})?", re.ASCII)


def film_problems(known: Known, body: FilmRead) -> list[Problem]:
    """Return what speaks against a film that was read."""
    problems = []
    if not _SUM.fullmatch(body.sha256):
        problems.append(
            _problem(
                "film-event-unfit",
                "the SHA-256 of the film is none",
                "sha256",
                read=body.sha256[:80],
                allowed="64 hexadecimal digits",
            )
        )
    if body.video is not None and not isinstance(known.bodies[body.video], VideoAdded):
        problems.append(
            _problem(
                "film-event-unfit",
                "what it names as the film is another event",
                "video",
                read=body.video,
                allowed="the event that brought the film",
            )
        )
    if _names(body.marks) is None:
        problems.append(
            _problem(
                "film-event-unfit",
                "the marks of the displays cannot be read",
                "marks",
                read=body.marks[:80],
                allowed='JSON text: a list of displays, each with its "name"',
            )
        )
    return problems


def corrected_problems(known: Known, body: SpanCorrected) -> list[Problem]:
    """Return what speaks against a correction."""
    problems = text_problems(body.reason, "reason", code="reason-missing")
    film = known.bodies[body.film]
    if not isinstance(film, FilmRead):
        return [*problems, _no_film(body.film)]
    names = _names(film.marks) or []
    if body.display not in names:
        problems.append(
            _problem(
                "span-unfit",
                f"no display of this film is called «{body.display}»",
                "display",
                read=body.display,
                allowed=listed(names),
            )
        )
    if not body.start < body.end:
        problems.append(
            _problem(
                "span-unfit",
                "a correction ends after it begins",
                "end",
                read=f"{body.start:g} to {body.end:g} s",
                allowed="an end above the start",
            )
        )
    is_value = body.shown is Shown.VALUE
    fits = body.value is not None and _VALUE.fullmatch(body.value) is not None
    if is_value and not fits:
        problems.append(
            _problem(
                "span-unfit",
                "what the display showed is not a number",
                "value",
                read=body.value or "nothing",
                allowed="a number as the display showed it, such as 23.45",
            )
        )
    if not is_value and body.value is not None:
        problems.append(
            _problem(
                "span-unfit",
                "a display that showed no value has none",
                "value",
                read=body.value[:40],
                allowed="no value, or 'value' as what it showed",
            )
        )
    return problems


def accepted_problems(known: Known, body: FilmAccepted) -> list[Problem]:
    """Return what speaks against a pull being taken for a piece."""
    problems = []
    if not isinstance(known.bodies[body.film], FilmRead):
        problems.append(_no_film(body.film))
    if body.number < 1:
        problems.append(
            _problem(
                "film-event-unfit",
                "there is no such pull",
                "number",
                read=str(body.number),
                allowed="the number of a pull in the film, from 1",
            )
        )
    if known.read_piece(body.reading) != body.piece:
        problems.append(
            _problem(
                "film-event-unfit",
                "the reading that it names is not one of this piece",
                "reading",
                read=body.reading,
                allowed="the event that entered or amended the piece's reading",
            )
        )
    return problems


def _names(marks: str) -> list[str] | None:
    """Return how the displays are called; None where the text holds no displays."""
    try:
        found = json.loads(marks)
        names = [mark["name"] for mark in found]
    except (ValueError, TypeError, KeyError):
        return None
    return names if names and all(isinstance(name, str) and name for name in names) else None


def _no_film(read: str) -> Problem:
    return _problem(
        "film-event-unfit",
        "what it speaks of is not a film that was read",
        "film",
        read=read,
        allowed="the event that says what was read in the film",
    )


def _problem(code: str, message: str, column: str, *, read: str, allowed: str) -> Problem:
    return Problem(
        code,
        message,
        FILM,
        column_name=column,
        read=read,
        allowed=allowed,
        do="Send it again with this corrected; nothing of this call was kept.",
    )
