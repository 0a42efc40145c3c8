"""A study out of arrays: what a notebook has in place of a sheet."""

import math
from collections.abc import Iterable, Sequence

from breakwright.model.errors import ImpossibleValue
from breakwright.model.instrument import Instrument
from breakwright.model.interval import Interval
from breakwright.model.notice import Notice, Weight
from breakwright.model.study import Study
from breakwright.model.trial import Reading, Trial
from breakwright.model.units import ForceUnit, to_newtons

__all__ = ["gather_study"]

_NAMED = 5


def _several(places: Sequence[int]) -> str:
    named = ", ".join(str(place) for place in places[:_NAMED])
    return named + (f" and {len(places) - _NAMED} more" if len(places) > _NAMED else "")


def _numbers(name: str, values: Iterable[object]) -> list[float]:
    numbers: list[float] = []
    for place, value in enumerate(values):
        try:
            numbers.append(float(value))  # type: ignore[arg-type]
        except (TypeError, ValueError):
            raise ImpossibleValue(f"{name}[{place}] is {value!r}, which is not a number") from None
    return numbers


def _faults(groups: Sequence[str], lower: Sequence[float], upper: Sequence[float]) -> list[str]:
    if not len(groups) == len(lower) == len(upper):
        return [
            f"group, lower and upper must be equally long; they hold {len(groups)}, "
            f"{len(lower)} and {len(upper)}"
        ]
    faults: list[str] = []
    pairs = list(enumerate(zip(lower, upper, strict=True)))
    for wrong, said in (
        (
            [i for i, (a, b) in pairs if math.isnan(a) or math.isnan(b)],
            "not a number (use lower=0 for 'at most', upper=inf for 'at least', and leave out "
            "pieces without a reading)",
        ),
        ([i for i, (a, _) in pairs if a < 0.0], "a negative load"),
        ([i for i, (a, _) in pairs if math.isinf(a)], "an infinite lower end"),
        ([i for i, (a, b) in pairs if a > b], "a lower end above the upper one"),
        ([i for i, (a, b) in pairs if a == b == 0.0], "a load of 0, which is no strength"),
    ):
        if wrong:
            faults.append(f"{said} at index {_several(wrong)}")
    names = list(dict.fromkeys(groups))
    if len(names) < 2:
        faults.append(f"two groups at least are needed to compare; got {names}")
    return faults


def _reading(low: float, high: float, unit: ForceUnit, instrument: str | None) -> Reading:
    if low == high:
        text = f"{low:g}"
    elif math.isinf(high):
        text = f">{low:g}"
    else:
        text = f"<{high:g}" if low == 0.0 else f"{low:g}..{high:g}"
    return Reading(Interval(to_newtons(low, unit), to_newtons(high, unit)), text, instrument)


def gather_study(
    group: Iterable[object],
    lower: Iterable[object],
    *,
    upper: Iterable[object] | None,
    failure: Iterable[object] | None,
    unit: ForceUnit,
    reference: str | None,
    counts: str | None,
    worth: float | None,
    resolution: float | None,
    capacity: float | None,
) -> tuple[Study, tuple[Notice, ...]]:
    """Return a study of one piece for each place in the arrays, and what must be said of it.

    ``lower`` and ``upper`` (in ``unit``) hold the ends of each reading: equal for an exact one,
    ``upper`` infinite for 'at least', ``lower`` 0 for 'at most'; ``upper`` None makes all of
    them exact. Pieces are named by their place, counted from 1. Raises ImpossibleValue with
    everything that is wrong.

    >>> study, _ = gather_study(["a", "b"], [1, 2], upper=None, failure=None, unit=ForceUnit.KN,
    ...     reference="a", counts=None, worth=None, resolution=None, capacity=None)
    >>> study.trials[1].readings[0].shown
    Interval(lower=2000.0, upper=2000.0)
    """
    groups = [str(name) for name in group]
    low = _numbers("lower", lower)
    high = low if upper is None else _numbers("upper", upper)
    ways = [None] * len(groups) if failure is None else [_way(value) for value in failure]
    faults = _faults(groups, low, high)
    if len(ways) != len(groups):
        faults.append(f"failure holds {len(ways)} values for {len(groups)} pieces")
    names = tuple(dict.fromkeys(groups))
    if reference is not None and reference not in names:
        faults.append(f"reference is {reference!r}; the groups are {', '.join(names)}")
    if counts is not None and failure is None:
        faults.append("counts names a way of breaking, so failure must say how each piece broke")
    if faults:
        raise ImpossibleValue("; ".join(faults))
    display: tuple[Instrument, ...] = ()
    if resolution is not None or capacity is not None:
        display = (
            Instrument(
                "display",
                capacity=None if capacity is None else to_newtons(capacity, unit),
                resolution=0.0 if resolution is None else to_newtons(resolution, unit),
            ),
        )
    on = display[0].name if display else None
    trials = tuple(
        Trial(
            specimen=str(place),
            group=name,
            readings=(_reading(a, b, unit, on),),
            failure=way,
        )
        for place, (name, a, b, way) in enumerate(
            zip(groups, low, high, ways, strict=True), start=1
        )
    )
    chosen = names[0] if reference is None else reference
    notices = (
        (Notice("no-reference-stated", Weight.REMARK, facts={"reference": chosen}),)
        if reference is None
        else ()
    )
    study = Study(
        trials=trials,
        groups=names,
        reference=chosen,
        counts=counts,
        worth=worth,
        unit=unit,
        instruments=display,
    )
    return study, notices


def _way(value: object) -> str | None:
    # Tables out of pandas hold nan where nothing was written.
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return None
    return str(value).strip() or None
