"""What a film tells of one pull, as the entry that a person would have typed."""

from collections.abc import Sequence

from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Entry
from breakwright.model.film import Break, DisplayTrace, PeakWindow
from breakwright.model.instrument import Instrument
from breakwright.model.loadtyped import load_typed, range_typed, rounded_up
from breakwright.model.study import Study
from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit, from_newtons, to_newtons

__all__ = ["entry_of"]

FILM = "film"
# What is left of an exact sum after its way through floats (N).
_DUST = 1e-6


def entry_of(
    found: Break,
    study: Study,
    *,
    displays: Sequence[DisplayTrace],
    film: str,
    failure: str | None = None,
    day: str | None = None,
) -> Entry:
    """Return ``found`` as one text for each load that ``study`` reads of a piece.

    ``displays`` are those of the film's reading, ``film`` its name for the note, ``day`` the day
    at the bench (2026-01-31). A display is the study's instrument of the same name, or the only
    one there is.

    Where the study itself reckons with a refresh time, and with the rate of this pull that covers
    what the film leaves open, the numbers are given plainly with the rate, and the study opens
    them upward; else each number is a range and there is no rate. So what may have been missed is
    never counted twice. Half a step of a display is left to the study in any case.

    Raises InputRefused where the displays of the film are not those that the study reads.
    """
    unit = study.unit
    places = _places(found, study)
    plain = _is_covered(found, study, displays)
    typed = [
        "" if window is None else _typed(window, _trace(window, displays), unit, plain=plain)
        for window in places
    ]
    together = None
    if len(places) > 1 and study.sharing is Sharing.SEPARATE_PEAKS:
        # A sum seen at one moment: without it only the largest single load would be sure.
        seen = sum(to_newtons(w.lower, _unit(_trace(w, displays))) for w in places if w is not None)
        together = load_typed(seen, seen, unit)
    by_scale = len(study.instruments) > 1 and study.sharing is None
    return Entry(
        loads=tuple(typed) if study.instruments else (_sum_typed(found, unit),),
        unit=unit.value,
        ended=found.ending,
        failure=failure,
        note=f"read off {film} at {found.peak_at:.2f} s",
        decimal="point",
        scale=found.windows[0].display if by_scale else None,
        together=together,
        rate=_rate(found, unit) if plain and study.instruments else None,
        date=day,
    )


def _places(found: Break, study: Study) -> list[PeakWindow | None]:
    """Return the windows in the order of the study's loads, one a load."""
    instruments = study.instruments
    if not instruments:
        return []
    of_name = {window.display: window for window in found.windows}
    if len(instruments) == 1 and len(found.windows) == 1:
        return [found.windows[0]]
    names = [instrument.name for instrument in instruments]
    strangers = [name for name in of_name if name not in names]
    if strangers:
        raise _refused(
            f"«{strangers[0]}» in the film is none of the study's instruments",
            read=", ".join(of_name),
            allowed=", ".join(names),
            do="Call the display in the film as the instrument is called, or name it with "
            "'instrument'.",
        )
    if study.sharing is None:
        if len(of_name) != 1:
            raise _refused(
                "in this study each piece is read on one scale, and the film shows several",
                read=", ".join(of_name),
                allowed='one display; or sharing = "same-moment" in study.toml',
                do="Say in study.toml that the scales shared the load, or read one display only.",
            )
        return list(of_name.values())
    missing = [name for name in names if name not in of_name]
    if missing:
        raise _refused(
            f"the study reads «{missing[0]}» of each piece, and it was not marked in the film",
            read=", ".join(of_name),
            allowed=", ".join(names),
            do="Mark its digit row as well: a sum needs every display.",
        )
    return [of_name[name] for name in names]


def _is_covered(found: Break, study: Study, displays: Sequence[DisplayTrace]) -> bool:
    """Does the study's own reckoning (rate times the longest refresh) cover what may be missed?"""
    if any(window.upper is None for window in found.windows):
        return True  # without an upper end nothing is reckoned with
    if found.rate is None or found.rate <= 0.0:
        return False
    read = {window.display for window in found.windows}
    instruments: Sequence[Instrument] = study.instruments
    if len(instruments) > 1:
        instruments = [instrument for instrument in instruments if instrument.name in read]
    refresh = max((instrument.refresh or 0.0 for instrument in instruments), default=0.0)
    missed = sum(
        to_newtons(w.upper - w.lower, _unit(_trace(w, displays)))
        for w in found.windows
        if w.upper is not None
    )
    return refresh > 0.0 and found.rate * refresh + _DUST >= missed


def _typed(window: PeakWindow, trace: DisplayTrace, unit: ForceUnit, *, plain: bool) -> str:
    if window.lower < -2.0 * max(trace.step, 10.0**-trace.decimals):
        raise _refused(
            f"«{window.display}» showed {window.lower:.{trace.decimals}f} at the peak, a load "
            "below zero",
            read=f"{window.lower:.{trace.decimals}f}",
            allowed="loads of 0 or more: zeroed before the pull, and hung the right way round",
            do="Look at the film; type the reading by hand if you know how to take it.",
        )
    lower = max(0.0, window.lower)
    upper = lower if plain and window.upper is not None else window.upper
    own = _unit(trace)
    if own is unit:
        return range_typed(lower, upper, trace.decimals)
    top = float("inf") if upper is None else to_newtons(upper, own)
    return load_typed(to_newtons(lower, own), top, unit)


def _sum_typed(found: Break, unit: ForceUnit) -> str:
    """Return the sum for a study that knows no instruments: half steps and all."""
    top = float("inf") if found.upper is None else found.upper
    return load_typed(max(0.0, found.lower), top, unit)


def _rate(found: Break, unit: ForceUnit) -> str | None:
    return None if found.rate is None else rounded_up(from_newtons(found.rate, unit), digits=3)


def _trace(window: PeakWindow, displays: Sequence[DisplayTrace]) -> DisplayTrace:
    return next(trace for trace in displays if trace.mark.name == window.display)


def _unit(trace: DisplayTrace) -> ForceUnit:
    return ForceUnit.N if trace.mark.unit is None else ForceUnit(trace.mark.unit)


def _refused(message: str, *, read: str, allowed: str, do: str) -> InputRefused:
    return InputRefused(
        [Problem("displays-not-of-study", message, FILM, read=read, allowed=allowed, do=do)]
    )
