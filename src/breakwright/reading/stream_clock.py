"""When a line was: by the device's own stamps where it has some, else by when the line came."""

from dataclasses import dataclass

__all__ = ["Clock"]


@dataclass(slots=True)
class Clock:
    """Gives every line a time in s that never goes back; the first line is at 0.

    ``every`` is the stated time between two lines, used instead of all else. ``ahead`` is how
    far (s) the stamps may run ahead of the arrivals before they are not believed (a damaged
    digit); None where arrivals mean nothing, as for lines out of a file.
    ``jumps`` counts stamps that went back or too far: the device was started again, or the line
    was damaged. The time then goes on by the arrivals.
    """

    every: float | None = None
    ahead: float | None = None
    jumps: int = 0
    _lines: int = 0
    _time: float = 0.0
    _stamp: float | None = None
    _arrived: float | None = None

    def time_of(self, stamp: float | None, arrived: float) -> float:
        """Return the time of the next line, ``arrived`` on any clock that does not go back (s)."""
        before, self._arrived = self._arrived, arrived
        waited = 0.0 if before is None else max(0.0, arrived - before)
        self._lines += 1
        if self.every is not None:
            self._time = (self._lines - 1) * self.every
            return self._time
        if stamp is None:
            self._time += waited
            return self._time
        last, self._stamp = self._stamp, stamp
        if last is None:
            self._time += waited
            return self._time
        step = stamp - last
        if step < 0.0 or (self.ahead is not None and step > waited + self.ahead):
            self.jumps += 1
            step = waited
        self._time += step
        return self._time
