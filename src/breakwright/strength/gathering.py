"""Collecting a part's numbers and words: its own, a group's, its material's, its kind's."""

from dataclasses import dataclass

from breakwright.model.part import Part
from breakwright.strength.fill import Gathered, fill_from_material, material_words
from breakwright.strength.mechanism import Kind, Mechanism

__all__ = ["Collected", "applicable", "collect", "missing_keys"]


@dataclass(frozen=True, slots=True)
class Collected:
    """What is known of a part (or of one group's pieces of it), complete or not."""

    kind: Kind
    known: Gathered
    count: int
    piece_share: float


def collect(part: Part, kind: Kind, *, group: str | None) -> Collected:
    """Return all that is known of ``part``. Where two places give a number, the first of these
    wins: the group's, the part's own, a weighed piece, the material's table, the kind's own rule
    or table, the kind's default."""
    known = Gathered(
        numbers=dict(part.numbers),
        origin=dict.fromkeys(part.numbers, "given"),
        words=dict(part.words),
        cv=dict(part.spread),
    )
    count = part.count
    for key, value in part.by_group.get(group, {}).items() if group is not None else ():
        if isinstance(value, str):
            known.words[key] = value
        elif key == "count":
            count = int(value) if 1.0 <= value < 1e9 else count
        else:
            known.numbers[key] = value
            known.origin[key] = f"given for the group «{group}»"
    for word in material_words(kind):
        fill_from_material(kind, known, word)
    if kind.complete is not None:
        for key, value in kind.complete(known.numbers, known.words).items():
            if key not in known.numbers:
                known.numbers[key] = value
                known.origin[key] = "by rule or table of this kind of part"
    for own in kind.keys:
        if own.name not in known.numbers and own.default is not None:
            known.numbers[own.name] = own.default
            known.origin[own.name] = "taken where nothing is given"
        if own.name in known.numbers:
            known.cv.setdefault(own.name, own.cv)
    known.numbers["count"] = float(count)
    known.origin["count"] = "given"
    share = part.largest_share if count == part.count or part.share is not None else 1.0 / count
    return Collected(kind, known, count, share)


def applicable(collected: Collected) -> tuple[Mechanism, ...]:
    """Return the mechanisms that apply with the part's words."""
    words = collected.known.words
    return tuple(m for m in collected.kind.mechanisms if m.when is None or m.when(words))


def missing_keys(collected: Collected) -> tuple[str, ...]:
    """Return the keys that an applicable mechanism needs and nothing gives, in their order."""
    needed = dict.fromkeys(key for m in applicable(collected) for key in m.needs)
    return tuple(key for key in needed if key not in collected.known.numbers)
