"""An equation turned round: the nearest value of one number at which all is well."""

import math
from collections.abc import Callable

from breakwright.model.errors import BreakwrightError
from breakwright.model.part import Part
from breakwright.rig.changing import Change, changed_part, rounded_outward, steps_towards
from breakwright.rig.look import Look, with_part

__all__ = ["distance", "look_with", "solve"]

_BISECTIONS = 20
_CLOSE = 1e-3  # of the value, before it is rounded outward anyway


def look_with(look: Look, part: Part, key: str, value: float) -> Look | None:
    """The look with one number changed; None where no such part can be."""
    changed = changed_part(part, key, value, groups=look.study.groups)
    if not look.catalogue.possible(changed):
        return None
    try:
        return with_part(look, changed)
    except (BreakwrightError, ValueError, ArithmeticError):
        return None


def solve(change: Change, is_good: Callable[[float], bool], *, up: bool) -> float | None:
    """The nearest value in one direction that is good, rounded outward; None if there is none.

    Steps outward until one is good, then halves the last step (in the log where there is one).
    Rounding outward may leave the good range again, where that is narrow: then the unrounded
    value is given, to three figures.
    """
    last = change.now
    for value in steps_towards(change, up=up):
        if is_good(value):
            exact = value if change.is_counted else _bisect(last, value, is_good)
            nice = rounded_outward(exact, up=up, change=change)
            if is_good(nice):
                return nice
            figures = float(f"{exact:.3g}")
            return figures if is_good(figures) else exact
        last = value
    return None


def _bisect(bad: float, good: float, is_good: Callable[[float], bool]) -> float:
    for _ in range(_BISECTIONS):
        if abs(good - bad) <= _CLOSE * abs(good):
            break
        middle = math.sqrt(bad * good) if bad > 0.0 and good > 0.0 else 0.5 * (bad + good)
        if is_good(middle):
            good = middle
        else:
            bad = middle
    return good


def distance(now: float, then: float) -> float:
    if now > 0.0 and then > 0.0:
        return abs(math.log(then / now))
    return abs(then - now)
