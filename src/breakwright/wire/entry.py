"""A peak as the entry that a person would have typed: rounded outward, never inward."""

import math

from breakwright.model.event import Entry
from breakwright.model.loadtext import number_text
from breakwright.model.loadtyped import load_typed, rounded_up
from breakwright.model.trial import Ending
from breakwright.model.units import from_newtons
from breakwright.reading.stream_peak import Doubt, Peak
from breakwright.wire.server import NotTaken, StudySeen

__all__ = ["entry_of", "load_typed", "place_of"]


def place_of(study: StudySeen, scale: str | None) -> int:
    """Return which display of ``study`` is called ``scale``, from 0. Raises NotTaken.

    Without a name the study has one display or none.
    """
    names = [display.name for display in study.displays]
    if scale is None and len(names) <= 1:
        return 0
    if scale in names:
        return names.index(scale)
    known = ", ".join(repr(name) for name in names) or "none"
    said = "which display is the cell" if scale is None else f"there is no display {scale!r}"
    raise NotTaken(f"{said}? Name it with --scale; this study has {known}")


def entry_of(
    peak: Peak,
    study: StudySeen,
    *,
    place: int,
    day: str,
    ended: Ending | None = None,
    failure: str | None = None,
) -> Entry:
    """Return the entry for ``peak``, read on the study's display number ``place`` (from 0).

    Where the study itself reckons with the display's refresh time, and that is no shorter than
    the time after the peak here, the peak is given plainly with its rate, and the study opens it
    upward; else what may have been missed is in the load's own range. The display's step is
    left to the study where it states one.
    """
    unit = study.unit
    display = study.displays[place] if study.displays else None
    half = display.resolution / 2.0 if display and display.resolution else 0.0
    lower, upper = _without_step(peak, half)
    rate = None
    refresh = display.refresh if display else None
    plain = Doubt.LONE_SAMPLE not in peak.doubts and math.isfinite(upper)
    if plain and refresh and peak.rate is not None and peak.apart is not None:
        reckoned = peak.rate * refresh
        if peak.shown + reckoned >= upper:
            lower = upper = peak.shown
            rate = rounded_up(from_newtons(peak.rate, unit))
    typed = load_typed(lower, upper, unit)
    several = len(study.displays) > 1
    if several and study.shared:
        loads = tuple(typed if n == place else "" for n in range(len(study.displays)))
    else:
        loads = (typed,)
    return Entry(
        loads=loads,
        unit=unit.value,
        ended=ended or peak.ending,
        failure=failure or None,
        note=_note(peak),
        decimal="point",
        scale=display.name if several and not study.shared and display else None,
        rate=rate,
        date=day,
    )


def _without_step(peak: Peak, half: float) -> tuple[float, float]:
    """Take the half step off again that the study will put on."""
    lower, upper = peak.interval.lower, peak.interval.upper
    if half <= 0.0 or lower + half > upper - half:
        return (lower, upper) if half <= 0.0 else (min(peak.shown, upper), max(peak.shown, lower))
    return lower + half, upper - half if math.isfinite(upper) else upper


def _note(peak: Peak) -> str:
    parts = ["load cell"]
    if peak.apart is not None:
        parts.append(f"{number_text(round(peak.apart, 6))} s from the peak to the next sample")
    parts += [word.value.replace("-", " ") for word in peak.doubts]
    return "; ".join(parts)
