"""What 'breakwright listen' says of a pull and of the lines it could not read."""

import math
from collections.abc import Mapping
from types import MappingProxyType

from breakwright.bootstrap.listening import Doubt, Fault, LineReader, Peak, PullFinder
from breakwright.model.loadtext import load_text, number_text, span_text
from breakwright.model.units import ForceUnit

__all__ = ["finder_lines", "peak_lines", "reader_lines"]

_DOUBTS: Mapping[Doubt, str] = MappingProxyType(
    {
        Doubt.LONE_SAMPLE: "the topmost sample stands alone, as a disturbance would; the range "
        "holds the peak with it and without it",
        Doubt.LOST_AT_BREAK: "the lines were missing just when the load left its top, so it may "
        "have gone on rising",
        Doubt.GAP_INSIDE: "lines were missing on the way up",
        Doubt.RAN_OUT: "the display ran out of range",
        Doubt.CUT: "the lines ended while the piece still bore the load",
        Doubt.ROSE_AGAIN: "the load had not come to rest since the pull before: both may be of "
        "one piece",
        Doubt.SLOW_FALL: "the load went down slowly, as when a jack is let off: did it break?",
        Doubt.NOT_AT_ZERO: "the cell did not stand at zero before the pull; nothing was taken off",
        Doubt.FEW_SAMPLES: "fewer than five samples lie between the beginning and the peak",
        Doubt.SLIPPED: "the load slipped and was taken up again on the way",
    }
)
_FAULTS: Mapping[str, str] = MappingProxyType(
    {
        Fault.UNIT_MISSING.value: "without a unit",
        Fault.FORCE_OR_MASS.value: "in kg or lb, with nothing said about them",
        Fault.UNIT_DISAGREES.value: "in another unit than stated",
        Fault.DECIMAL_UNCLEAR.value: "with a comma that can mean two things",
        Fault.COLUMNS_UNCLEAR.value: "with more numbers than a time and a load",
        Fault.COLUMNS_CHANGED.value: "with more or fewer numbers than the others",
        Fault.GARBAGE.value: "that could not be read",
        Fault.TOO_LONG.value: "far too long",
        Fault.HALF.value: "that began or ended in the middle",
        "duplicate": "sent twice with one time stamp",
    }
)


def peak_lines(peak: Peak, unit: ForceUnit) -> list[str]:
    """Return what was found of one pull, the load first."""
    first = f"peak {load_text(peak.shown, unit)}"
    if math.isinf(peak.interval.upper) or peak.interval.lower != peak.interval.upper:
        first = f"{first}: {span_text(peak.interval, unit)}"
    lines = [first]
    if peak.rate is not None and 0.0 < peak.missed < math.inf:
        lines.append(
            f"up to {load_text(float(f'{peak.missed:.3g}'), unit)} may have come between two "
            f"samples, at about {load_text(float(f'{peak.rate:.3g}'), unit)} a second"
        )
    elif 0.0 < peak.missed < math.inf:
        missed = load_text(float(f"{peak.missed:.3g}"), unit)
        lines.append(f"up to {missed} may have come between two samples")
    lines += [_words(doubt, peak, unit) for doubt in peak.doubts]
    return lines


def _words(doubt: Doubt, peak: Peak, unit: ForceUnit) -> str:
    if doubt is Doubt.NOT_AT_ZERO and peak.rest is not None:
        rest = f"{number_text(peak.rest)} N" if peak.rest < 0 else load_text(peak.rest, unit)
        return f"{_DOUBTS[doubt]} ({rest})"
    return _DOUBTS[doubt]


def reader_lines(reader: LineReader) -> list[str]:
    """Return what came in all, and what of it could not be used."""
    lines = [f"{reader.lines} lines, {reader.samples} loads"]
    for why, count in sorted(reader.passed.items()):
        if why in _FAULTS:
            noun = "line" if count == 1 else "lines"
            lines.append(f"{count} {noun} {_FAULTS[why]}, the first: {reader.first_of[why]!r}")
    if reader.clock.jumps:
        lines.append(f"the device's time jumped {reader.clock.jumps} times")
    return lines


def finder_lines(finder: PullFinder, unit: ForceUnit, *, pulls: int) -> list[str]:
    """Return what to say where no pull, or none the right way round, was found."""
    lines: list[str] = []
    threshold = finder.rules.threshold
    if not pulls and 0.0 < finder.highest < threshold:
        lines.append(
            f"no pull was found: the largest load was {load_text(finder.highest, unit)}, and a "
            f"pull begins at {load_text(threshold, unit)} (--threshold)"
        )
    if finder.wrong_way >= threshold:
        sign = "positive" if finder.rules.sign < 0.0 else "negative"
        lines.append(
            f"the cell showed {sign} loads of up to {load_text(finder.wrong_way, unit)}; if it "
            "shows a pull as negative, give --negative"
        )
    if finder.over_at_rest:
        lines.append(
            f"{finder.over_at_rest} times the display showed no number while nothing was loaded: "
            "is the cell plugged into its display?"
        )
    return lines
