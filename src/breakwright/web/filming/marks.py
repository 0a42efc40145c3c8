"""Marks of displays: as the fields of a form, as data, and those remembered of another film.

A mark is a form with the keys of ``displays.toml``: name, corners, time, decimals and so on.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.bootstrap.film_pages import StudyDisplay
from breakwright.usecases.bench.state import StudyState
from breakwright.web.filming.finding import Filmed, in_study
from breakwright.web.preparing.forms import Form, number_text
from breakwright.web.services import Services

__all__ = ["CORNERS", "Before", "Shown", "marks_of", "shown_of", "typed_marks"]

CORNERS = ("top left", "top right", "bottom right", "bottom left")
# No frame of a film is larger; what lies outside of this one's is refused when it is read.
_LARGEST = 20_000
_OUT = -2


@dataclass(frozen=True, slots=True)
class Before:
    """``is_of_another``: the marks were made on another film of the study."""

    marks: Sequence[Mapping[str, Any]]
    time: float | None
    is_of_another: bool


@dataclass(frozen=True, slots=True)
class Shown:
    """A display on the page: ``corners`` has the text of x and y of each corner, '' where it is
    not marked; ``decimals`` as typed."""

    place: int
    about: StudyDisplay
    corners: tuple[tuple[str, str], ...]
    decimals: str


def marks_of(services: Services, state: StudyState, film: Filmed) -> Before:
    """Return how the film was marked, or the film of this study that was marked before it."""
    found = _own(film)
    if found:
        return Before(found, found[0].get("time"), is_of_another=False)
    others = (_own(other) for other in in_study(services, state) if other.key != film.key)
    found = next((marks for marks in others if marks), ())
    # The time at which they held is another film's.
    return Before(found, None, is_of_another=bool(found))


def _own(film: Filmed) -> Sequence[Mapping[str, Any]]:
    if film.note is not None:
        return film.note.marks
    if film.film is None:
        return ()
    marks: Sequence[Mapping[str, Any]] = json.loads(film.film.read.marks)
    # What another program sent as marks may hold less than a page needs.
    return [mark for mark in marks if "corners" in mark]


def shown_of(
    displays: Sequence[StudyDisplay],
    marks: Sequence[Mapping[str, Any]],
    form: Form | None = None,
) -> tuple[Shown, ...]:
    """Return the displays as they stand on the page: as marked, or as typed in ``form``."""
    by_name = {mark["name"]: mark for mark in marks}
    shown = []
    for place, about in enumerate(displays):
        mark = by_name.get(about.name, {})
        if form is not None:
            corners = tuple(
                (form.typed.get(f"x{place}-{c}", ""), form.typed.get(f"y{place}-{c}", ""))
                for c in range(4)
            )
            decimals = form.typed.get(f"decimals{place}", "")
        else:
            pairs = mark.get("corners") or [("", "")] * 4
            corners = tuple((_place(x), _place(y)) for x, y in pairs)
            decimals = number_text(mark.get("decimals", about.decimals))
        shown.append(Shown(place, about, corners, decimals))
    return tuple(shown)


def _place(value: Any) -> str:
    return value if isinstance(value, str) else f"{value:.1f}".removesuffix(".0")


def typed_marks(
    form: Form, displays: Sequence[StudyDisplay], time: float
) -> tuple[dict[str, Any], ...]:
    """Return the displays that were marked, at ``time`` (s), noting in ``form`` what is wrong.

    A display without any corner is not in this film.
    """
    marks = []
    for place, about in enumerate(displays):
        numbers = [
            form.number(f"{axis}{place}-{c}", low=_OUT, high=_LARGEST)
            for c in range(4)
            for axis in "xy"
        ]
        decimals = form.whole(f"decimals{place}", low=0, high=6)
        if all(number is None for number in numbers):
            continue
        missing = next((i // 2 for i, number in enumerate(numbers) if number is None), None)
        if missing is not None:
            words = f"«{about.name}»: the {CORNERS[missing]} corner of the digits is missing."
            form.refuse(f"x{place}-{missing}", words)
            continue
        corners = [
            [float(x or 0), float(y or 0)] for x, y in zip(*[iter(numbers)] * 2, strict=True)
        ]
        mark: dict[str, Any] = {"name": about.name, "corners": corners, "time": time}
        if decimals is not None:
            mark["decimals"] = int(decimals)
        marks.append(mark)
    if not marks and form.is_fine:
        form.refuse("x0-0", "Mark the digits of one display at least.")
    return tuple(marks)
