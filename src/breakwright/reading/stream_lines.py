"""Bytes of a load cell to samples: lines cut out, the way of writing found, the rest counted."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from breakwright.reading.stream_clock import Clock
from breakwright.reading.stream_line import (
    Format,
    Line,
    LineKind,
    decimal_mark,
    read_header,
    read_line,
)
from breakwright.reading.stream_words import Fault

__all__ = ["LineReader", "Sample"]

LONGEST_LINE = 400
# So many lines in a row with another number of columns: the device has changed its mind.
_CHANGE_BELIEVED = 5
_KEPT_TEXT = 80


@dataclass(frozen=True, slots=True)
class Sample:
    """One moment: ``time`` in s from the first, ``load`` in N, None while the display shows no
    number (beyond its range). ``after_gap``: the line was lost just before."""

    time: float
    load: float | None
    after_gap: bool = False


@dataclass(slots=True)
class LineReader:
    """Takes bytes as they come. ``lines`` counts every line that was not empty, and each of them
    is either in ``samples`` or in ``passed`` (talk, a duplicate, or a ``Fault``'s word).

    ``mid_line``: the first line may be the rest of one that began before we listened, as on a
    serial port; it is passed over.
    """

    form: Format = field(default_factory=Format)
    clock: Clock = field(default_factory=Clock)
    mid_line: bool = False
    lines: int = 0
    samples: int = 0
    passed: Counter[str] = field(default_factory=Counter)
    first_of: dict[str, str] = field(default_factory=dict)
    stamped: bool = False
    _rest: bytearray = field(default_factory=bytearray)
    _too_long: bool = False
    _columns: int = 0
    _other: tuple[int, int] = (0, 0)
    _last: tuple[str, float] | None = None
    _gap: bool = False

    @property
    def faults(self) -> Mapping[Fault, int]:
        """How many lines gave no load, and why."""
        return {fault: n for fault in Fault if (n := self.passed[fault.value])}

    @property
    def columns(self) -> int:
        """How many numbers a line holds; 0 before the first."""
        return self._columns

    def feed(self, data: bytes, arrived: float) -> list[Sample]:
        """Return the samples of all lines that ``data`` completes; ``arrived`` as for Clock."""
        found: list[Sample] = []
        for byte_line in self._cut(data):
            sample = self._take(byte_line, arrived)
            if sample is not None:
                found.append(sample)
        return found

    def finish(self, arrived: float) -> list[Sample]:
        """Return what an unfinished last line says, where the input ended in good order."""
        return self.feed(b"\n", arrived) if self._rest or self._too_long else []

    def lost(self) -> None:
        """The line went dead: what is unfinished is half a line, and so may be the next."""
        if self._rest.strip() or self._too_long:
            self.lines += 1
            self._pass(Fault.HALF.value, bytes(self._rest).decode("ascii", "replace"))
        self._rest.clear()
        self._too_long = False
        self.mid_line = True
        self._gap = True
        self._last = None

    def _cut(self, data: bytes) -> list[bytes]:
        *ended, rest = data.replace(b"\r", b"\n").split(b"\n")
        lines: list[bytes] = []
        for part in ended:
            self._append(part)
            lines.append(bytes(self._rest))
            self._rest.clear()
            if self._too_long:
                lines[-1] = lines[-1].ljust(LONGEST_LINE + 1, b"?")
                self._too_long = False
        self._append(rest)
        return lines

    def _append(self, part: bytes) -> None:
        room = LONGEST_LINE - len(self._rest)
        self._rest += part[: max(0, room)]
        self._too_long = self._too_long or len(part) > room

    def _take(self, raw: bytes, arrived: float) -> Sample | None:
        text = raw.decode("ascii", "replace").strip(" \t\0\x02\x03")
        if not text:
            return None
        self.lines += 1
        line = self._judged(raw, text)
        if isinstance(line, str):
            self._pass(line, text)
            return None
        self.samples += 1
        gap, self._gap = self._gap, False
        return Sample(self.clock.time_of(line.stamp, arrived), line.load, gap)

    def _judged(self, raw: bytes, text: str) -> Line | str:
        """Return the line, or the word under which it is passed over."""
        if self.mid_line:
            self.mid_line = False
            return Fault.HALF.value
        if len(raw) > LONGEST_LINE:
            return Fault.TOO_LONG.value
        line = self._read(text)
        if line.kind is LineKind.TALK:
            return LineKind.TALK.value
        if line.fault is not None:
            return line.fault.value
        if line.stamp is not None:
            self.stamped = True
            if self._last == (text, line.stamp):
                return "duplicate"
            self._last = (text, line.stamp)
        return line

    def _pass(self, why: str, text: str) -> None:
        self.passed[why] += 1
        self.first_of.setdefault(why, text[:_KEPT_TEXT])

    def _read(self, text: str) -> Line:
        if text.startswith("#"):
            return Line(LineKind.TALK)
        header = read_header(text)
        if header is not None:
            self._learn(header)
            return Line(LineKind.TALK)
        form = self.form
        if form.decimal is None:
            mark = decimal_mark(text)
            if mark in ("point", "comma"):
                form = replace(form, decimal=mark)
        line = read_line(text, form)
        if line.fault is None and line.columns:
            if not self._same_columns(line.columns):
                return Line(LineKind.FAULT, fault=Fault.COLUMNS_CHANGED)
            # Only a line that could be read teaches how the others are written.
            self.form = form
        return line

    def _learn(self, header: Format) -> None:
        form = self.form
        self.form = replace(
            form,
            unit=form.unit or header.unit,
            stamps=form.stamps or header.stamps,
            column=form.column or header.column,
        )

    def _same_columns(self, columns: int) -> bool:
        if self._columns in (0, columns):
            self._columns, self._other = columns, (0, 0)
            return True
        other, times = self._other
        times = times + 1 if other == columns else 1
        self._other = (columns, times)
        if times < _CHANGE_BELIEVED:
            return False
        self._columns, self._other = columns, (0, 0)
        return True
