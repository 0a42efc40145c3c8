"""Which pictures of the displays prove what was read: around the peak, around every doubt."""

from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.model.film import Break, DisplayTrace, FilmReading, Span
from breakwright.model.units import ForceUnit
from breakwright.report.film_words import doubt_words, peak_words, seconds, shown_words

__all__ = [
    "FilmCrop",
    "Shot",
    "ShotRow",
    "ShotSection",
    "caption",
    "crop_name",
    "proving_crops",
    "sections",
]

_AROUND_PEAK = 2  # spans on either side of the peak's
_AROUND_DOUBT = 4
_DOUBTS = 40


@dataclass(frozen=True, slots=True)
class FilmCrop:
    """A picture (JPEG) of one display's digit row with some surroundings, at ``time`` (s)."""

    display: str
    time: float
    jpeg: bytes


@dataclass(frozen=True, slots=True)
class Shot:
    """A crop with what was ``read`` there; ``marked``: it is of the peak itself."""

    crop: FilmCrop
    read: str
    marked: bool = False


@dataclass(frozen=True, slots=True)
class ShotRow:
    """The shots of one display, in the order of time."""

    display: str
    shots: tuple[Shot, ...]


@dataclass(frozen=True, slots=True)
class ShotSection:
    """Shots that prove one thing, which ``title`` says."""

    title: str
    rows: tuple[ShotRow, ...]


def sections(
    reading: FilmReading, crops: Sequence[FilmCrop], unit: ForceUnit
) -> tuple[ShotSection, ...]:
    """Return a section for the peak of each pull, then one for each doubt (40 at most)."""
    found = []
    for one in reading.breaks:
        rows = tuple(_peak_row(one, trace, crops) for trace in reading.displays)
        words = f"Pull {one.number}: {peak_words(one, reading, unit)}"
        found.append(ShotSection(words, tuple(row for row in rows if row.shots)))
    for doubt in reading.doubts[:_DOUBTS]:
        rows = tuple(
            _row_between(trace, crops, doubt.start, doubt.end)
            for trace in reading.displays
            if doubt.display in (None, trace.mark.name)
        )
        words = doubt_words(doubt, reading, unit)
        found.append(ShotSection(words, tuple(row for row in rows if row.shots)))
    return tuple(found)


def proving_crops(
    reading: FilmReading, crops: Sequence[FilmCrop], unit: ForceUnit
) -> tuple[FilmCrop, ...]:
    """Return the crops that the sections show, each once, by display and time."""
    shown = {
        (shot.crop.display, shot.crop.time): shot.crop
        for section in sections(reading, crops, unit)
        for row in section.rows
        for shot in row.shots
    }
    return tuple(shown[key] for key in sorted(shown))


def crop_name(crop: FilmCrop, place: int) -> str:
    """Return a file name for the crop of the display number ``place`` (from 1).

    >>> crop_name(FilmCrop("left scale", 12.3456, b""), 1)
    'display-1-at-0012.346s.jpg'
    """
    return f"display-{place}-at-{crop.time:08.3f}s.jpg"


def _peak_row(found: Break, trace: DisplayTrace, crops: Sequence[FilmCrop]) -> ShotRow:
    at = next((i for i, span in enumerate(trace.spans) if span.end > found.peak_at), 0)
    spans = range(max(0, at - _AROUND_PEAK), min(len(trace.spans), at + _AROUND_PEAK + 1))
    shots = []
    for number in spans:
        span = trace.spans[number]
        # Of the peak's own span the picture nearest to the peak; of others the first.
        near = found.peak_at if number == at else span.start
        crop = _nearest(trace, crops, span, near)
        if crop is not None:
            shots.append(Shot(crop, shown_words(span, trace), marked=number == at))
    return ShotRow(trace.mark.name, tuple(shots))


def _nearest(
    trace: DisplayTrace, crops: Sequence[FilmCrop], span: Span, time: float
) -> FilmCrop | None:
    inside = [c for c in crops if c.display == trace.mark.name and span.start <= c.time < span.end]
    return min(inside, key=lambda c: abs(c.time - time), default=None)


def _row_between(
    trace: DisplayTrace, crops: Sequence[FilmCrop], start: float, end: float
) -> ShotRow:
    own = sorted((c for c in crops if c.display == trace.mark.name), key=lambda c: c.time)
    inside = [c for c in own if start - 1e-6 <= c.time <= end + 1e-6]
    before = [c for c in own if c.time < start - 1e-6][-1:]
    after = [c for c in own if c.time > end + 1e-6][:1]
    middle = _spread(inside, _AROUND_DOUBT - len(before) - len(after))
    shots = []
    for crop in (*before, *middle, *after):
        span = next((s for s in trace.spans if s.start <= crop.time < s.end), None)
        shots.append(Shot(crop, "not read" if span is None else shown_words(span, trace)))
    return ShotRow(trace.mark.name, tuple(shots))


def _spread(crops: Sequence[FilmCrop], most: int) -> Sequence[FilmCrop]:
    """Return at most ``most`` of the crops, evenly over them."""
    if len(crops) <= most:
        return crops
    return [crops[i * (len(crops) - 1) // max(1, most - 1)] for i in range(most)]


def caption(shot: Shot) -> str:
    """Return what stands below a shot: its time and what was read."""
    return f"{seconds(shot.crop.time)}: {shot.read}"
