"""Keys and words of a part that its kind does not have, and values that it does not allow."""

import math
from collections.abc import Iterable

from breakwright.model.part import Part
from breakwright.strength.fill import WEIGHED_KEYS, weighed_allowed
from breakwright.strength.gathering import Collected
from breakwright.strength.mechanism import Kind
from breakwright.strength.names import same_or_near
from breakwright.strength.part_problem import PartProblem, did_you_mean, listed

__all__ = ["allowed_numbers", "group_keys", "stray_keys", "wrong_values"]


def allowed_numbers(kind: Kind) -> dict[str, tuple[float, float]]:
    return {k.name: (k.low, k.high) for k in kind.keys} | weighed_allowed(kind)


def stray_keys(part: Part, kind: Kind) -> Iterable[PartProblem]:
    numbers = allowed_numbers(kind)
    for key in part.numbers:
        if key not in numbers:
            yield _stray(part, kind, key, read=f"{part.numbers[key]:g}")
    for key in part.words:
        if key not in kind.words and not key.endswith("material_class"):
            yield _stray(part, kind, key, read=part.words[key])
    for key, cv in part.spread.items():
        if key not in numbers:
            yield _stray(part, kind, key, read=f"{cv:g}")
        elif not 0.0 <= cv <= 2.0:
            yield PartProblem(
                part.name,
                key,
                f"the scatter of {key} is {cv:g}",
                read=f"{cv:g}",
                allowed="a coefficient of variation, 0 to 2 (0.1 is 10 %)",
                do="give the standard deviation divided by the mean",
            )


def group_keys(part: Part, kind: Kind) -> Iterable[PartProblem]:
    numbers = allowed_numbers(kind)
    for group, given in part.by_group.items():
        for key, value in given.items():
            known = kind.words if isinstance(value, str) else numbers
            if key == "count" and not isinstance(value, str):
                if not (math.isfinite(value) and value >= 1.0 and value == int(value)):
                    yield PartProblem(
                        part.name,
                        key,
                        f"count of the group {group!r} is {value:g}",
                        read=f"{value:g}",
                        allowed="a whole number, 1 or more",
                        do="say how many of the part share the load",
                    )
                continue
            if key in known:
                continue
            other = numbers if isinstance(value, str) else kind.words
            if key in other:
                sort = "a number" if isinstance(value, str) else "a word"
                yield PartProblem(
                    part.name,
                    key,
                    f"{key} of the group {group!r} must be {sort}",
                    read=str(value),
                    allowed=sort,
                    do=f"write {key} as {sort}",
                )
            else:
                yield _stray(part, kind, key, read=str(value))


def _stray(part: Part, kind: Kind, key: str, *, read: str) -> PartProblem:
    numbers = allowed_numbers(kind)
    if key in numbers or key in kind.words:
        sort = "a number" if key in numbers else "a word"
        return PartProblem(
            part.name,
            key,
            f"{key} of a {kind.name!r} is {sort}",
            read=read,
            allowed=sort,
            do=f"write {key} as {sort}",
        )
    known = [*numbers, *kind.words]
    stem = key.rsplit("_", 1)[0]
    same_stem = [k for k in known if k.rsplit("_", 1)[0] == stem]
    if same_stem:
        do = f"give it in the unit of {same_stem[0]!r} (the key ends with its unit)"
    else:
        do = did_you_mean(same_or_near(key, known)) or "take it out, or choose a key listed"
    return PartProblem(
        part.name,
        key,
        f"a {kind.name!r} has no {key!r}",
        read=read,
        allowed=listed(known),
        do=do,
    )


def wrong_values(part: Part, collected: Collected, group: str | None) -> Iterable[PartProblem]:
    kind, known = collected.kind, collected.known
    where = "" if group is None else f" of the group {group!r}"
    own = part.by_group.get(group, {}) if group is not None else {}
    of_group = {k: v for k, v in own.items() if not isinstance(v, str)}
    for key, (low, high) in allowed_numbers(kind).items():
        value = of_group.get(key, part.numbers.get(key))
        if value is None or (math.isfinite(value) and low <= value <= high):
            continue
        said = where if key in of_group else ""
        yield PartProblem(
            part.name,
            key,
            f"{key}{said} is {value:g}",
            read=f"{value:g}",
            allowed=f"{low:g} to {high:g}",
            do="check the number and its unit (the key ends with the unit)",
        )
    yield from _weighed_wrongly(part, collected)
    for word, allowed in kind.words.items():
        value_read = known.words.get(word)
        if value_read is None or allowed is None or value_read in allowed:
            continue
        yield PartProblem(
            part.name,
            word,
            f"{word}{where if word in own else ''} is {value_read!r}",
            read=value_read,
            allowed=listed(allowed),
            do=did_you_mean(same_or_near(value_read, allowed)) or "choose one of those listed",
        )


def _weighed_wrongly(part: Part, collected: Collected) -> Iterable[PartProblem]:
    """A piece whose weight and sizes make no wood: each may be in range and the density not."""
    known = collected.known
    for key, density in known.numbers.items():
        low, high = WEIGHED_KEYS["density_kg_m3"]
        weighed = key.endswith("density_kg_m3") and known.origin[key].startswith("weighed")
        if weighed and key not in part.numbers and not low <= density <= high:
            yield PartProblem(
                part.name,
                key.replace("density_kg_m3", "piece_mass_g"),
                f"the weighed piece comes out at {density:.4g} kg/m³",
                read=f"{density:.4g} kg/m³",
                allowed=f"{low:g} to {high:g} kg/m³",
                do="check its weight (g) and its three sizes (mm)",
            )
