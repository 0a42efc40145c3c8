"""From a part as a person wrote it to one whose every number is known, and to its predictions."""

import math
from dataclasses import replace

from breakwright.model.errors import BreakwrightError
from breakwright.model.part import Part
from breakwright.strength.catalogue import kinds
from breakwright.strength.gathering import Collected, applicable, collect, missing_keys
from breakwright.strength.mechanism import Mechanism
from breakwright.strength.own_tests import OWN_TESTS_KIND, from_own_tests
from breakwright.strength.part_problems import PartProblem, part_problems
from breakwright.strength.predict import Resolved, predict, update
from breakwright.strength.prediction import Prediction
from breakwright.strength.trust import MODEL_SIGMA

__all__ = ["PartProblem", "PartRefused", "mechanisms_of", "part_problems", "predictions", "resolve"]

# Pieces of known density still scatter by 12-20 % (common practice, no source).
_PIECE_SCATTER = 0.12


class PartRefused(BreakwrightError):
    """A part that cannot be computed, with everything that is wrong with it."""

    def __init__(self, problems: tuple[PartProblem, ...]) -> None:
        self.problems = problems
        super().__init__("; ".join(f"{p.part}: {p.message}" for p in problems))


def resolve(part: Part, group: str | None) -> Resolved:
    """Return ``part`` (for ``group``, its pieces of that group) with every number known.

    Raises PartRefused where an applicable mechanism lacks a number.
    """
    return _resolved(part, _collected(part, group))


def mechanisms_of(part: Part, group: str | None) -> tuple[Mechanism, ...]:
    """Return the ways in which ``part`` can break, as its words have it."""
    return applicable(_collected(part, group))


def predictions(part: Part, group: str | None) -> tuple[Prediction, ...]:
    """Predict every applicable mechanism of ``part``; own tests count for the one it ``breaks`` by
    (or for its only one).

    Own tests are of the part as written; for a group with other numbers they are first scaled by
    what the equation says of the change.
    """
    if part.kind == OWN_TESTS_KIND:
        return (from_own_tests(part.name, part.own_tests, part.breaks),)
    collected = _collected(part, group)
    resolved = _resolved(part, collected)
    ways = applicable(collected)
    counted = part.breaks if part.breaks is not None or len(ways) != 1 else ways[0].name
    found = []
    for way in ways:
        prediction = _predict(way, resolved)
        if part.own_tests and way.name == counted:
            prediction = _count_in(part, way, prediction, group=group)
        found.append(prediction)
    return tuple(found)


def _collected(part: Part, group: str | None) -> Collected:
    kind = kinds().get(part.kind)
    if kind is None:
        raise PartRefused(part_problems(part))
    collected = collect(part, kind, group=group)
    if missing_keys(collected) or not applicable(collected):
        raise PartRefused(part_problems(part))
    return collected


def _resolved(part: Part, collected: Collected) -> Resolved:
    known = collected.known
    return Resolved(
        part=part.name,
        numbers=known.numbers,
        cv=known.cv,
        origin=known.origin,
        words=known.words,
        piece_share=collected.piece_share,
        notes=tuple(dict.fromkeys(known.notes)),
    )


def _predict(way: Mechanism, resolved: Resolved) -> Prediction:
    try:
        return predict(way, resolved)
    except (ValueError, ZeroDivisionError) as trouble:
        said = f"with these numbers {way.name!r} gives no load"
        raise PartRefused(
            (PartProblem(resolved.part, None, said, do="check its sizes and angles"),)
        ) from trouble


def _count_in(
    part: Part, way: Mechanism, prediction: Prediction, *, group: str | None
) -> Prediction:
    own, notes = part.own_tests, prediction.notes
    if group is not None and part.by_group.get(group):
        base = next((m for m in mechanisms_of(part, None) if m.name == way.name), way)
        scale = prediction.median / _predict(base, resolve(part, None)).median
        own = tuple(load * scale for load in own)
        if not math.isclose(scale, 1.0):
            notes = (
                *notes,
                f"own tests were taken over from the part as written, times {scale:.3g}",
            )
    inputs = prediction.sigma * math.sqrt(max(1.0 - prediction.model_share, 0.0))
    scatter = max(inputs, _PIECE_SCATTER)
    # The equation's own error is what the tests correct; it stays whole beside the scatter.
    wide = max(prediction.sigma, math.hypot(scatter, MODEL_SIGMA[prediction.trust]))
    updated = update(replace(prediction, sigma=wide), own, scatter=scatter)
    return replace(updated, notes=notes)
