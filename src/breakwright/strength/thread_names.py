"""From what a person calls a thread ('5/16-18', 'M8', '#10-24 UNC') to its diameter and pitch."""

import difflib
import re
from dataclasses import dataclass

from breakwright.model.errors import BreakwrightError
from breakwright.strength.metal_tables import table
from breakwright.strength.threads import CUT_INCH, CUT_METRIC

__all__ = ["Thread", "UnknownThread", "find_thread"]

_MM = 25.4
_METRIC = re.compile(r"m(\d+(?:\.\d+)?)(?:[x*×-](\d+(?:\.\d+)?))?")
_INCH = re.compile(r"(#?\d+(?:[- ]\d+/\d+|/\d+)?)(?:-(\d+(?:\.\d+)?))?(unc|unf|un|unef|uns)?")
_COARSEST, _FINEST = 0.34, 0.02  # pitch over diameter: outside, something is mistyped


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread: its usual name, major diameter and pitch in mm, and the series' stress area cut."""

    name: str
    diameter_mm: float
    pitch_mm: float
    cut: float


class UnknownThread(BreakwrightError, LookupError):
    """A thread that no table knows and that can't be read as diameter and pitch."""

    def __init__(self, name: str, nearest: tuple[str, ...], why: str) -> None:
        self.name = name
        self.nearest = nearest
        super().__init__(f"thread {name!r}: {why}")


def find_thread(name: str) -> Thread:
    """Return the thread that a person means; any pitch is taken, known or not.

    Without a pitch the coarse series is meant, as in a shop.

    >>> round(find_thread("5/16-18").pitch_mm, 4), find_thread("M8").pitch_mm
    (1.4111, 1.25)
    >>> find_thread("M8 x 1").name, find_thread("5/16 UNF").name, find_thread("10-24").name
    ('M8x1', '5/16-24', '#10-24')
    >>> [find_thread(n).name for n in ("1-8", "2-8", "2-56", '1/4"-20', "No. 8-32")]
    ['1-8', '2-8', '#2-56', '1/4-20', '#8-32']
    """
    key = re.sub(r"[\"”″]|inch|in\.", "", name.strip().casefold()).replace("no.", "#")
    key = re.sub(r"\s*([-x×*/])\s*", r"\1", key)
    squeezed = key.replace(" unc", "unc").replace(" unf", "unf").replace(" un", "un")
    if squeezed.startswith("m"):
        return _metric(name, squeezed.replace(" ", ""))
    return _inch(name, squeezed.replace("# ", "#").strip())


def _metric(name: str, key: str) -> Thread:
    found = _METRIC.fullmatch(key)
    if found is None:
        raise UnknownThread(name, _near(name), "a metric thread is written M8 or M8x1")
    diameter = float(found[1])
    if found[2] is not None:
        pitch = float(found[2])
        return _plausible(name, Thread(f"M{diameter:g}x{pitch:g}", diameter, pitch, CUT_METRIC))
    for row in table("threads_metric.csv"):
        if float(row["diameter_mm"]) == diameter:
            return Thread(row["size"], diameter, float(row["pitch_mm"]), CUT_METRIC)
    raise UnknownThread(name, _near(name), "this size needs its pitch, as in M9x1.25")


def _inch(name: str, key: str) -> Thread:
    found = _INCH.fullmatch(key)
    if found is None:
        raise UnknownThread(name, _near(name), "an inch thread is written 5/16-18 or #10-24")
    size, per_inch, series = found[1].replace(" ", "-"), found[2], found[3] or ""
    rows = {row["size"]: row for row in table("threads_inch.csv")}
    if _is_number_size(size, per_inch):
        size = f"#{size}"
    if size in rows:
        major = float(rows[size]["major_in"])
        if per_inch is None:
            column = "fine_per_in" if series == "unf" else "coarse_per_in"
            per_inch = rows[size][column] or rows[size]["fine_per_in"]
    else:
        major = _inches(size)
    if per_inch is None or major <= 0.0 or float(per_inch) <= 0.0:
        why = "this size needs its threads per inch, as in 5/16-18"
        raise UnknownThread(name, _near(name), why)
    pitch = _MM / float(per_inch)
    return _plausible(name, Thread(f"{size}-{per_inch}", major * _MM, pitch, CUT_INCH))


def _is_number_size(size: str, per_inch: str | None) -> bool:
    """Whether a bare whole number is a screw number (10-24) and not inches (1-8, 2-4.5)."""
    if not size.isdecimal():
        return False
    if per_inch is None:
        return size != "1"
    pitch = _MM / float(per_inch) if float(per_inch) else 0.0
    return _FINEST <= pitch / (_MM * _inches(f"#{size}")) <= _COARSEST


def _inches(size: str) -> float:
    if size.startswith("#"):
        return 0.060 + 0.013 * float(size[1:])
    total = 0.0
    for piece in size.split("-"):
        over, _, under = piece.partition("/")
        if under and float(under) == 0.0:
            return 0.0
        total += float(over) / (float(under) if under else 1.0)
    return total


def _plausible(name: str, thread: Thread) -> Thread:
    if not _FINEST <= thread.pitch_mm / thread.diameter_mm <= _COARSEST:
        raise UnknownThread(
            name,
            _near(name),
            f"a pitch of {thread.pitch_mm:.3g} mm does not go with a diameter of "
            f"{thread.diameter_mm:.3g} mm",
        )
    return thread


def _near(name: str) -> tuple[str, ...]:
    known = [row["size"] for row in table("threads_metric.csv")]
    for row in table("threads_inch.csv"):
        for column in ("coarse_per_in", "fine_per_in"):
            if row[column]:
                known.append(f"{row['size']}-{row[column]}")
    return tuple(difflib.get_close_matches(name.strip().upper(), known, n=3, cutoff=0.5))
