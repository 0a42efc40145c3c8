"""The trace of a run on the disk, written as it comes: a table of time and load."""

import os
from collections.abc import Iterable
from pathlib import Path
from types import TracebackType
from typing import Self

from breakwright.reading.stream_lines import Sample

__all__ = ["TraceFile", "trace_text"]

HEADER = "time_s,load_N,state\n"


def _row(sample: Sample, since: float) -> str:
    load = "" if sample.load is None else f"{sample.load:.9g}"
    state = "no number" if sample.load is None else "after a gap" if sample.after_gap else ""
    return f"{sample.time - since:.6f},{load},{state}\n"


def trace_text(samples: Iterable[Sample], *, since: float = 0.0) -> str:
    """Return ``samples`` as the text of a CSV table: time_s (from ``since``), load_N (empty
    where the display showed no number), state.

    >>> trace_text([Sample(1.5, 412.0), Sample(1.6, None)], since=1.5).splitlines()
    ['time_s,load_N,state', '0.000000,412,', '0.100000,,no number']
    """
    return HEADER + "".join(_row(sample, since) for sample in samples)


class TraceFile:
    """Appends to ``path``; what ``append`` was given survives the end of this program, and what
    ``safe`` was called after survives a power cut. Raises OSError where the disk takes no more."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._file = path.open("x", encoding="ascii", newline="")
        self._file.write(HEADER)
        self._file.flush()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def append(self, samples: Iterable[Sample]) -> None:
        for sample in samples:
            self._file.write(_row(sample, 0.0))
        self._file.flush()

    def safe(self) -> None:
        """Return when all that was appended is on the disk."""
        self._file.flush()
        os.fsync(self._file.fileno())

    def close(self) -> None:
        if not self._file.closed:
            self.safe()
            self._file.close()
