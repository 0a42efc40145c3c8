"""One moment of a film: what each display showed, with its picture, and what came around it."""

import bisect
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.model.film import Shown
from breakwright.model.units import ForceUnit
from breakwright.web.rendering import load_words

__all__ = ["SHOWN", "Moment", "Row", "Seen", "moment_of", "start_of"]

# So many spans before and after the one of the moment are shown.
_AROUND = 4
# Names of pictures have their time to the thousandth.
_ROUNDED = 0.0006
SHOWN: Mapping[Shown, str] = {
    Shown.VALUE: "a number",
    Shown.BLANK: "nothing: it was dark",
    Shown.OVER_RANGE: "out of range",
    Shown.UNREADABLE: "not readable",
    Shown.OUT_OF_SIGHT: "it was out of sight",
}

Crops = Mapping[int, Sequence[tuple[float, str]]]


@dataclass(frozen=True, slots=True)
class Row:
    """A span with its picture's name ('' where none was kept); ``machine`` is what the program
    had read where a person corrected it; ``now``: it is the moment's."""

    start: float
    end: float
    words: str
    value: str
    shown: str
    crop: str
    crop_time: float
    sure: str
    frozen: bool
    corrected: bool
    machine: tuple[str, ...]
    now: bool


@dataclass(frozen=True, slots=True)
class Seen:
    """One display: the ``row`` of the moment, and the ``rows`` around it, this one among them."""

    place: int
    name: str
    unit: str
    row: Row | None
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Moment:
    """``at`` (s); ``total`` is the load on all displays together, in words."""

    at: float
    total: str
    displays: tuple[Seen, ...]


def start_of(told: Mapping[str, Any]) -> float:
    """Return the moment (s) to begin with: the first peak."""
    return float(told["breaks"][0]["at"]) if told["breaks"] else 0.0


def moment_of(told: Mapping[str, Any], crops: Crops, at: float, unit: ForceUnit) -> Moment:
    """Return the moment ``at`` (s) of what was told of a film."""
    return Moment(
        at=at,
        total=_total(told["total"], at, unit),
        displays=tuple(
            _seen(place, display, crops.get(place, ()), at)
            for place, display in enumerate(told["displays"], start=1)
        ),
    )


def _total(total: Sequence[Sequence[float | None]], at: float, unit: ForceUnit) -> str:
    span = next((s for s in total if s[0] is not None and s[0] <= at < (s[1] or 0.0)), None)
    if span is None or span[2] is None:
        return "no sum: not every display could be read"
    low = load_words(span[2], unit)
    if span[3] is None:
        return f"at least {low}"
    high = load_words(span[3], unit)
    return low if low == high else f"{low} to {high}"


def _seen(
    place: int, display: Mapping[str, Any], crops: Sequence[tuple[float, str]], at: float
) -> Seen:
    spans = display["spans"]
    here = max(0, bisect.bisect_right([span["start"] for span in spans], at) - 1)
    times = [time for time, _ in crops]
    around = range(max(0, here - _AROUND), min(len(spans), here + _AROUND + 1))
    rows = tuple(_row(spans[i], crops, times, at, now=i == here) for i in around)
    return Seen(
        place=place,
        name=display["name"],
        unit=display["unit"] or "",
        row=next((row for row in rows if row.now), None),
        rows=rows,
    )


def _row(
    span: Mapping[str, Any],
    crops: Sequence[tuple[float, str]],
    times: Sequence[float],
    at: float,
    *,
    now: bool,
) -> Row:
    first = bisect.bisect_left(times, span["start"] - _ROUNDED)
    last = bisect.bisect_left(times, span["end"] - _ROUNDED)
    # Of the moment's own span the picture nearest to it, of others the first.
    near = at if now else span["start"]
    time, crop = min(crops[first:last], key=lambda c: abs(c[0] - near), default=(0.0, ""))
    return Row(
        start=span["start"],
        end=span["end"],
        words=span["words"],
        value=span["value"] or "",
        shown=span["shown"],
        crop=crop,
        crop_time=time,
        sure=_sure(span),
        frozen=span["frozen"],
        corrected=span["corrected"],
        machine=tuple(span["machine"]),
        now=now,
    )


def _sure(span: Mapping[str, Any]) -> str:
    if span["corrected"]:
        return "by a person"
    frames = f"{span['frames']} frame{'' if span['frames'] == 1 else 's'}"
    if span["shown"] != Shown.VALUE.value:
        return frames
    # 100 % is not said of what may be wrong after all.
    return f"{min(99.9, 100.0 * span['sure']):.1f} % sure, {frames}"
