"""The spans of one display as samples of the load: in N, with the window in which each came."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.model.film import DisplayTrace, Shown, Span
from breakwright.model.units import NEWTONS_PER, ForceUnit
from breakwright.reading.film_segments import lies_between
from breakwright.reading.film_spans import settled_until
from breakwright.reading.film_switch import switched_spans
from breakwright.reading.film_texts import decimals_of, is_number

__all__ = ["Sample", "Samples", "clock_slack", "frame_of", "newtons_per", "samples_of"]


@dataclass(frozen=True, slots=True)
class Sample:
    """One span. ``load`` is in N, None where nothing that can be added was shown. It began to show
    at ``came``, could be read from ``start`` on, surely stood there until ``until`` and was gone at
    ``end``; the load was measured after ``since`` and before ``came`` (s). ``span`` is its number
    in the trace. ``hint`` (N) is a number that stood there for a moment, unsure as it is, and is
    no mixture of its neighbours."""

    span: int
    load: float | None
    shown: Shown
    since: float
    came: float
    start: float
    until: float
    end: float
    agreeing: int
    hint: float | None = None


@dataclass(frozen=True, slots=True)
class Samples:
    """All samples of one display. ``step`` is in N, ``refresh`` in s, None: not known;
    ``frame`` is how exactly its times are known (s)."""

    name: str
    samples: tuple[Sample, ...]
    comes: tuple[float, ...]
    starts: tuple[float, ...]
    step: float
    refresh: float | None
    factor: float
    frame: float
    capacity: float | None

    def at(self, time: float) -> int:
        """Return the number of the sample that had come last at ``time``."""
        return max(0, bisect_right(self.comes, time) - 1)

    def shown_at(self, time: float) -> int:
        """Return the number of the sample that could be read last at ``time``."""
        return max(0, bisect_right(self.starts, time) - 1)

    def next_load(self, place: int) -> float | None:
        """Return the load that followed sample ``place``, None if none did."""
        return self.samples[place + 1].load if place + 1 < len(self.samples) else None

    def missed(self, place: int) -> float:
        """Return the longest time (s) in which the load went on unseen after the last refresh
        that showed sample ``place``: one refresh where that is known."""
        after = self.samples[place + 1].came if place + 1 < len(self.samples) else None
        here = self.samples[place]
        whole = (here.end if after is None else after) - here.since
        return whole if self.refresh is None else min(self.refresh, whole)


def newtons_per(trace: DisplayTrace) -> float:
    """Return what one unit of the display is in N; a display without a unit shows N."""
    unit = trace.mark.unit
    return 1.0 if unit is None else NEWTONS_PER[ForceUnit(unit)]


def samples_of(trace: DisplayTrace, others: Sequence[DisplayTrace] = ()) -> Samples:
    """Return the samples of ``trace``. What it showed after it was switched to another unit is
    no load; ``others`` tell whether it was that or the load that changed."""
    factor = newtons_per(trace)
    odd = switched_spans(trace, others)
    # A change begins a frame after ``since``, however long it then takes to be readable.
    frame = frame_of(trace) + clock_slack(trace)
    samples = tuple(
        Sample(
            span=place,
            load=None if span.value is None or place in odd else span.value * factor,
            shown=Shown.UNREADABLE if place in odd else span.shown,
            since=span.since,
            came=_came(trace.spans, place, frame),
            start=span.start,
            until=settled_until(trace.spans, place),
            end=span.end,
            agreeing=span.agreeing,
            hint=None if place in odd else _hint(trace, place),
        )
        for place, span in enumerate(trace.spans)
    )
    capacity = trace.mark.capacity
    return Samples(
        name=trace.mark.name,
        samples=samples,
        comes=tuple(sample.came for sample in samples),
        starts=tuple(sample.start for sample in samples),
        step=trace.step * factor,
        refresh=trace.refresh,
        factor=factor,
        frame=frame,
        capacity=None if capacity is None else capacity * factor,
    )


def frame_of(trace: DisplayTrace) -> float:
    """Return the time between two frames (s), as far as the spans tell it."""
    each = [(span.end - span.start) / span.agreeing for span in trace.spans if span.agreeing > 1]
    changes = [span.start - span.since for span in trace.spans[1:] if span.start > span.since]
    return min([*each, *changes], default=0.0)


def clock_slack(trace: DisplayTrace) -> float:
    """Return within what time (s) the trace's clock is known; 0 for a film of its own clock.

    Where two films are joined the first span's ``since`` lies so much before its start.
    """
    return trace.spans[0].start - trace.spans[0].since if trace.spans else 0.0


def _hint(trace: DisplayTrace, place: int) -> float | None:
    """The number in an unreadable span, unless it can be a change caught half way."""
    span, spans = trace.spans[place], trace.spans
    if span.shown is not Shown.UNREADABLE or not 0 < place < len(spans) - 1:
        return None
    if not is_number(span.text) or decimals_of(span.text) != trace.decimals:
        return None
    before = next((s for s in reversed(spans[:place]) if s.value is not None), None)
    after = next((s for s in spans[place + 1 :] if s.value is not None), None)
    if before is None or after is None or lies_between(span.text, before.text, after.text):
        return None
    value = float(span.text)
    capacity = trace.mark.capacity
    return None if capacity is not None and value > capacity else value * newtons_per(trace)


def _came(spans: Sequence[Span], place: int, frame: float) -> float:
    span = spans[place]
    if place == 0 or spans[place - 1].shown in (Shown.UNREADABLE, Shown.OUT_OF_SIGHT):
        return span.start
    return min(span.since + frame, span.start)
