"""The trace of a film as a table: a row for each stretch of time in which nothing changed."""

import csv
import io
import itertools
from collections.abc import Sequence

from breakwright.model.film import DisplayTrace, FilmReading, Shown, Span, SumSpan
from breakwright.model.units import ForceUnit, from_newtons

__all__ = ["trace_csv"]


def trace_csv(reading: FilmReading, unit: ForceUnit) -> str:
    """Return the trace: ``time_s`` to ``until_s``, then for each display its value (empty where
    there was none), what it showed and how sure that is, then the sum from ``load_from`` to
    ``load_to`` in ``unit`` (empty where a display was not readable).

    Times are s on the film's clock. Cells have a decimal point and commas between them.
    """
    columns = ["time_s", "until_s"]
    for trace in reading.displays:
        name, of = trace.mark.name, trace.mark.unit
        columns += [f"{name}_{of}" if of else name, f"{name}_shown", f"{name}_confidence"]
    columns += [f"load_from_{unit.value}", f"load_to_{unit.value}"]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([_plain(column) for column in columns])
    edges = _edges(reading)
    span_of = [_Cursor([(s.start, s.end) for s in trace.spans]) for trace in reading.displays]
    sum_of = _Cursor([(s.start, s.end) for s in reading.total])
    for start, end in itertools.pairwise(edges):
        cells = [f"{start:.3f}", f"{end:.3f}"]
        for trace, cursor in zip(reading.displays, span_of, strict=True):
            place = cursor.at(start)
            cells += _display_cells(trace, None if place is None else trace.spans[place])
        place = sum_of.at(start)
        cells += _sum_cells(None if place is None else reading.total[place], unit)
        writer.writerow(cells)
    return out.getvalue()


class _Cursor:
    """Finds the stretch that holds a time; the times that are asked for only grow."""

    def __init__(self, stretches: Sequence[tuple[float, float]]) -> None:
        self._stretches = stretches
        self._here = 0

    def at(self, time: float) -> int | None:
        while self._here < len(self._stretches) and self._stretches[self._here][1] <= time:
            self._here += 1
        if self._here < len(self._stretches) and self._stretches[self._here][0] <= time:
            return self._here
        return None


def _edges(reading: FilmReading) -> list[float]:
    times = {t for trace in reading.displays for s in trace.spans for t in (s.start, s.end)}
    times |= {t for s in reading.total for t in (s.start, s.end)}
    return sorted(times)


def _display_cells(trace: DisplayTrace, span: Span | None) -> list[str]:
    if span is None:
        return ["", "", ""]
    shown = "frozen" if span.frozen and span.shown is Shown.VALUE else span.shown.value
    value = "" if span.value is None else f"{span.value:.{trace.decimals}f}"
    return [value, shown, f"{span.confidence:.3f}"]


def _sum_cells(span: SumSpan | None, unit: ForceUnit) -> list[str]:
    ends = (None, None) if span is None else (span.lower, span.upper)
    return ["" if end is None else f"{from_newtons(end, unit):.6g}" for end in ends]


def _plain(name: str) -> str:
    """Return a column name that no spreadsheet takes for a formula."""
    return f"'{name}" if name[:1] in "=+-@\t\r" else name
