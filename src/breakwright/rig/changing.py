"""Changing one number of a part: which numbers may be changed, how far, in what sensible steps."""

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from breakwright.model.part import Part
from breakwright.rig.thread_ladder import THREAD, named_thread, thread_ladder
from breakwright.strength.mechanism import KeyUse, Kind
from breakwright.strength.predict import Resolved
from breakwright.strength.thread_names import Thread

__all__ = [
    "COUNT",
    "Change",
    "changed_part",
    "changes_of",
    "group_of",
    "keys_of",
    "rounded_outward",
    "steps_towards",
    "unit_of",
]

COUNT = "count"
AS_CHANGED = "as changed"
_UNITS = {"mm": "mm", "deg": "°", "N": "N", "kN": "kN", "pct": "%", "MPa": "MPa", "kg": "kg"}
# Lengths, angles, rated loads: what a person can choose. A fit factor or moisture is not.
_CHOSEN = ("mm", "°", "N")
_OF_A_THREAD = {"diameter_mm", "pitch_mm"}
_SCAN = 12
_FARTHEST = 10.0  # times as much or as little as now: beyond it is another rig


@dataclass(frozen=True, slots=True)
class Change:
    """A number of a part that a person can choose, with its value now and what is allowed.

    A named thread is the number of its diameter, with the threads to choose from in ``ladder``.
    """

    key: str
    meaning: str
    unit: str
    now: float
    low: float
    high: float
    by_group: bool
    ladder: Mapping[float, str] = field(default_factory=dict)  # the only values, with their names

    @property
    def is_counted(self) -> bool:
        """Whether there is nothing between one value and the next."""
        return self.key == COUNT or bool(self.ladder)

    def meaning_of(self, then: float) -> str:
        """What the number is, or which named size is meant instead of which."""
        if not self.ladder:
            return self.meaning
        return f"{self.ladder[then]} instead of {self.ladder[self.now]}"


def changes_of(
    part: Part, kind: Kind, resolved: Resolved, needed: Iterable[str]
) -> tuple[Change, ...]:
    """The sizes and settings of ``part`` among ``needed`` that the person stated or let default.

    A number that follows from a word is not a choice of its own; a named thread is, as a whole.
    ``count`` comes last, for parts of the rig of which there are several.
    """
    wanted = set(needed)
    differing = {k for numbers in part.by_group.values() for k in numbers}
    known = resolved.numbers
    found = []
    for key in kind.keys:
        if key.use is KeyUse.PROPERTY or key.name not in wanted or key.name not in known:
            continue
        if unit_of(key.name) not in _CHOSEN:
            continue
        now = known[key.name]
        if key.name not in {*part.numbers, *differing} and now != key.default:
            continue
        found.append(
            Change(
                key.name,
                key.meaning,
                unit_of(key.name),
                now,
                min(key.low, now),
                max(key.high, now),
                key.name in differing,
            )
        )
    thread = named_thread(part.words)
    if thread is not None and wanted & _OF_A_THREAD and not {*part.numbers} & _OF_A_THREAD:
        found.append(_of_thread(thread, THREAD in differing))
    # One rail or one beam is one by design; several of a kind can become more.
    if not part.tested and part.count > 1:
        most = max(4 * part.count, part.count + 8)
        found.append(
            Change(
                COUNT, "how many of them share the load", "", part.count, part.count, most, False
            )
        )
    return tuple(found)


def _of_thread(thread: Thread, differs: bool) -> Change:
    ladder = thread_ladder(thread)
    diameters = tuple(ladder)
    now = round(thread.diameter_mm, 6)
    meaning = f"the thread, {thread.name}"
    return Change(THREAD, meaning, "mm", now, diameters[0], diameters[-1], differs, ladder)


def keys_of(kind: Kind, resolved: Resolved, ways: Collection[str]) -> frozenset[str]:
    """The keys that the named ways need, of the equations that apply with the part's words."""
    return frozenset(
        key
        for way in kind.mechanisms
        if way.name in ways and (way.when is None or way.when(resolved.words))
        for key in way.needs
    )


def unit_of(key: str) -> str:
    """The unit that a key ends with, as people write it; '' for a plain number.

    >>> unit_of("span_mm"), unit_of("turns"), unit_of("angle_deg")
    ('mm', '', '°')
    """
    return _UNITS.get(key.rsplit("_", 1)[-1], "") if "_" in key else ""


def changed_part(part: Part, key: str, value: float, *, groups: tuple[str, ...]) -> Part:
    """``part`` with one number changed; more of them share the load in the same proportion.

    Own tests stay tests of the part as it was: the change is written as every group's own number
    (``AS_CHANGED`` for a part of the rig), which the strength room scales own tests by.
    """
    if key == COUNT:
        count = round(value)
        share = part.share
        if part.own_tests and share is None:
            return replace(part, by_group={AS_CHANGED: {COUNT: float(count)}})
        if share is not None:
            scale = part.count / count
            share = (share[0] * scale, min(1.0, share[1] * scale))
        return replace(part, count=count, share=share)
    told: float | str = value
    if key == THREAD:
        thread = named_thread(part.words)
        told = "" if thread is None else thread_ladder(thread)[value]
    if not part.tested and not part.own_tests:
        if isinstance(told, str):
            return replace(part, words={**part.words, key: told})
        return replace(part, numbers={**part.numbers, key: told})
    named = groups if part.tested else (AS_CHANGED,)
    overrides = {g: {**part.by_group.get(g, {}), key: told} for g in named}
    return replace(part, by_group=overrides)


def group_of(part: Part) -> str | None:
    """The group under which a part of the rig is predicted: none, unless it was changed so."""
    return AS_CHANGED if AS_CHANGED in part.by_group else None


def steps_towards(change: Change, *, up: bool) -> tuple[float, ...]:
    """Values from next to now outward to what is allowed: even steps of the log, if it has one.

    >>> c = Change("span_mm", "", "mm", 100.0, 50.0, 400.0, False)
    >>> s = steps_towards(c, up=True)
    >>> len(s), round(s[0], 1), s[-1]
    (12, 112.2, 400.0)
    >>> steps_towards(Change("count", "", "", 4, 4, 7, False), up=True)
    (5.0, 6.0, 7.0)
    """
    end = change.high if up else change.low
    if change.key == COUNT:
        return tuple(float(n) for n in range(round(change.now) + 1, round(end) + 1)) if up else ()
    if change.ladder:
        beyond = [d for d in change.ladder if (d > change.now if up else d < change.now)]
        return tuple(beyond if up else reversed(beyond))
    if change.now > 0.0:
        end = min(end, change.now * _FARTHEST) if up else max(end, change.now / _FARTHEST)
    if end == change.now:
        return ()
    shares = [k / _SCAN for k in range(1, _SCAN + 1)]
    if change.now > 0.0 and end > 0.0:
        span = math.log(end / change.now)
        values = [change.now * math.exp(s * span) for s in shares]
    else:
        values = [change.now + s * (end - change.now) for s in shares]
    return (*values[:-1], end)


def rounded_outward(value: float, *, up: bool, change: Change) -> float:
    """Away from now to what a person can cut: 5 mm above 100 mm, whole mm, half ones under 5 mm.

    Other units: two figures. Never beyond what is allowed.

    >>> span = Change("span_mm", "", "mm", 250.0, 20.0, 400.0, False)
    >>> [rounded_outward(v, up=False, change=span) for v in (133.9, 87.6, 4.7)]
    [130.0, 87.0, 20.0]
    >>> rounded_outward(133.9, up=True, change=span)
    135.0
    """
    if change.is_counted:
        return value
    step = _step(value, change)
    # The hair keeps a value that is a whole number of steps, but for rounding, where it is.
    steps = math.ceil(value / step - 1e-9) if up else math.floor(value / step + 1e-9)
    nice = steps * step
    return min(nice, change.high) if up else max(nice, change.low)


def _step(value: float, change: Change) -> float:
    if change.unit == "°":
        return 1.0
    if change.unit == "mm" and value >= 1.0:
        if value > 100.0:
            return 5.0
        return 1.0 if value >= 5.0 else 0.5
    if value == 0.0:
        return 0.1
    return 10.0 ** (math.floor(math.log10(abs(value))) - 1)
