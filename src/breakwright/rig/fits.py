"""Which piece fits my scale? The size at which the strongest group still stays in range."""

from typing import NamedTuple

from breakwright.model.errors import BreakwrightError
from breakwright.model.part import Part
from breakwright.rig.advice import intended_chance
from breakwright.rig.changing import Change, changes_of, keys_of
from breakwright.rig.lognormal import share_above
from breakwright.rig.look import Look
from breakwright.rig.scale_findings import FitMiss, FittingPiece
from breakwright.rig.solving import look_with, solve
from breakwright.rig.weakest import Draws

__all__ = ["INTENDED", "IN_RANGE", "fitting_pieces"]

IN_RANGE = (0.99, 0.90)
INTENDED = 0.90


class _State(NamedTuple):
    in_range: float
    intended: float | None  # worked out only where the range is met
    median: float


def fitting_pieces(look: Look, limit: float, draws: Draws) -> tuple[FittingPiece, ...]:
    """For each size or setting that the asked way depends on: the value nearest to now that fits.

    'Fits': of the group with the strongest pieces, 99 % (then 90 %) stay under ``limit`` (N, whole
    load), and in every group the intended way comes first with a chance of 0.9 or more. Empty
    without a part under test that has an equation.
    """
    tested = look.tested
    if tested is None or not look.pieces:
        return ()
    kind = look.catalogue.kinds.get(tested.kind)
    if kind is None:
        return ()
    try:
        resolved = look.catalogue.resolve(tested, look.study.reference)
    except BreakwrightError:
        return ()
    if look.asked_way is None:
        return ()
    needs = keys_of(kind, resolved, (look.asked_way,))
    return tuple(
        _fit(look, tested, change, chance=chance, limit=limit, draws=draws)
        for change in changes_of(tested, kind, resolved, needs)
        for chance in IN_RANGE
    )


def _fit(
    look: Look, tested: Part, change: Change, *, chance: float, limit: float, draws: Draws
) -> FittingPiece:
    if change.by_group:
        return _missed(change, chance, FitMiss.DIFFERS_BY_GROUP)
    seen: list[_State] = []

    def fits(value: float) -> bool:
        found = look if value == change.now else look_with(look, tested, change.key, value)
        if found is None:
            return False
        seen.append(_state(found, chance=chance, limit=limit, draws=draws))
        return _good(seen[-1], chance)

    if fits(change.now):
        return _found(change, chance, then=change.now, direction=None, state=seen[-1])
    solved = [(up, solve(change, fits, up=up)) for up in (True, False)]
    able = [(up, v) for up, v in solved if v is not None]
    if not able:
        return _missed(change, chance, _why(seen, chance))
    up, then = min(able, key=lambda a: abs(a[1] - change.now))
    fits(then)
    return _found(change, chance, then=then, direction="up" if up else "down", state=seen[-1])


def _state(look: Look, *, chance: float, limit: float, draws: Draws) -> _State:
    pieces = look.pieces.values()
    in_range = 1.0 - max(share_above(limit, p.median, p.sigma) for p in pieces)
    intended = intended_chance(look, draws) if in_range >= chance else None
    return _State(in_range, intended, look.strongest().median)


def _good(state: _State, chance: float) -> bool:
    return state.in_range >= chance and state.intended is not None and state.intended >= INTENDED


def _why(seen: list[_State], chance: float) -> FitMiss:
    if any(s.in_range >= chance for s in seen):
        return FitMiss.BREAKS_OTHERWISE
    medians = [s.median for s in seen]
    if len(seen) > 1 and max(medians) - min(medians) <= 1e-9 * max(medians):
        return FitMiss.NO_EFFECT
    return FitMiss.NO_VALUE


def _found(
    change: Change, chance: float, *, then: float, direction: str | None, state: _State
) -> FittingPiece:
    return FittingPiece(
        key=change.key,
        meaning=change.meaning_of(then),
        unit=change.unit,
        now=change.now,
        chance=chance,
        then=then,
        direction=direction,
        in_range=state.in_range,
        intended_chance=state.intended,
        median=state.median,
        why=None,
    )


def _missed(change: Change, chance: float, why: FitMiss) -> FittingPiece:
    return FittingPiece(
        key=change.key,
        meaning=change.meaning,
        unit=change.unit,
        now=change.now,
        chance=chance,
        then=None,
        direction=None,
        in_range=None,
        intended_chance=None,
        median=None,
        why=why,
    )
