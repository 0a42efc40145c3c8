"""What was understood of an entry, said in the unit that this person reads."""

from dataclasses import dataclass

from breakwright.bootstrap.bench import Understood, UnderstoodLoad
from breakwright.model.event import Entry
from breakwright.model.outcome import Cause
from breakwright.model.trial import Ending
from breakwright.model.units import ForceUnit
from breakwright.report.numbers import load_format

__all__ = ["ENDINGS", "Echo", "echo_of", "ending_words", "on_scale", "typed_words"]

ENDINGS = {
    Ending.BROKE: "broke",
    Ending.OVER_RANGE: "the scale ran out of range",
    Ending.SCREEN_LOST: "the display went dark",
    Ending.STOPPED: "stopped before it broke",
    Ending.RIG_FAILED: "the rig gave way first",
}
# Limits closer together than this are one number to a person at the rig: what parts them is the
# step and the pace of the display, which the answer keeps.
_ONE_NUMBER = 0.05
_MEASURED = (Cause.MEASURED, Cause.BETWEEN, Cause.AT_MOST)
_BECAUSE = {
    Cause.AT_LEAST: "typed as 'at least'",
    Cause.OVER_RANGE: "the scale ran out",
    Cause.SCREEN_LOST: "the display went dark",
    Cause.STOPPED: "stopped before it broke",
    Cause.RIG_FAILED: "the rig gave way first",
    Cause.WRONG_WAY: "broke another way than the one asked about",
}


@dataclass(frozen=True, slots=True)
class Echo:
    """``line`` is one sentence for the page; ``loads`` and ``counts`` are its parts; ``remarks``
    what a person should know besides."""

    line: str
    loads: tuple[str, ...]
    counts: str
    remarks: tuple[str, ...]


def echo_of(understood: Understood, *, unit: ForceUnit) -> Echo:
    """Return what was understood, in ``unit``."""
    loads = tuple(_load(load, unit) for load in understood.loads)
    counts = _counts(understood, unit)
    parts = [*loads]
    if len(loads) > 1 and Cause(understood.cause) in _MEASURED:
        parts.append(f"together {_between(understood.lower, understood.upper, unit)}")
    line = "; ".join([*parts, counts])
    return Echo(f"{line}.", loads, counts, understood.remarks)


def _load(load: UnderstoodLoad, unit: ForceUnit) -> str:
    typed = f"{load.typed} {load.unit}{on_scale(load.scale)}" if load.typed else "not read"
    if not load.typed:
        return f"{typed}{on_scale(load.scale)}"
    same = load.unit == unit.value and load.typed.replace(",", ".").replace(".", "").isdigit()
    return typed if same else f"{typed} = {_between(load.lower, load.upper, unit)}"


def on_scale(scale: str | None) -> str:
    """Return ' on the left scale' for 'left scale'; nothing where the study names no scale."""
    if not scale:
        return ""
    return f" on {scale}" if scale.lower().startswith("the ") else f" on the {scale}"


def _counts(understood: Understood, unit: ForceUnit) -> str:
    cause = Cause(understood.cause)
    if cause in _MEASURED:
        return "counts as measured"
    floor = _load_words(understood.lower, unit)
    return f"counts as at least {floor}: {_BECAUSE[cause]}"


def _between(lower: float, upper: float | None, unit: ForceUnit) -> str:
    if upper is None:
        return f"at least {_load_words(lower, unit)}"
    if upper - lower <= _ONE_NUMBER * upper:
        return _load_words((lower + upper) / 2.0, unit)
    if lower == 0.0:
        return f"at most {_load_words(upper, unit)}"
    return load_format([lower, upper], unit).between(lower, upper)


def _load_words(newtons: float, unit: ForceUnit) -> str:
    return load_format([newtons], unit).load(newtons)


def typed_words(entry: Entry) -> str:
    """Return what was typed, as it was typed.

    >>> typed_words(Entry(("412", ""), "kgf"))
    '412 + not read, kgf'
    """
    return " + ".join(load or "not read" for load in entry.loads) + f", {entry.unit}"


def ending_words(entry: Entry, counts: str | None) -> str:
    """Return how the loading ended, in a few words.

    >>> ending_words(Entry(("412",), "N", failure="shank"), "pull-out")
    'broke another way: shank'
    """
    if entry.ended is not Ending.BROKE:
        return ENDINGS[entry.ended] + (f" ({entry.failure})" if entry.failure else "")
    if entry.failure and entry.failure != counts:
        return f"broke{' another way' if counts else ''}: {entry.failure}"
    return f"broke: {entry.failure}" if entry.failure else "broke"
