"""Advice by solving: the smallest change of one number that makes a weak part strong enough."""

import math
from collections.abc import Collection
from dataclasses import dataclass

from breakwright.model.errors import BreakwrightError
from breakwright.model.part import Part
from breakwright.rig.changing import (
    COUNT,
    Change,
    changed_part,
    changes_of,
    keys_of,
)
from breakwright.rig.findings import Advice, Level, Margin, NoAdvice, WhyNot
from breakwright.rig.judging import RISK, Verdict, judge, weak_parts
from breakwright.rig.look import Look
from breakwright.rig.solving import distance, look_with, solve
from breakwright.rig.thread_ladder import THREAD
from breakwright.rig.weakest import Draws, finish
from breakwright.strength.mechanism import Kind

__all__ = ["advise", "intended_chance"]


@dataclass(frozen=True)
class _Case:
    look: Look
    part: Part
    kind: Kind
    weak: tuple[str, ...]
    before: Verdict
    chance_before: float
    draws: Draws


def intended_chance(look: Look, draws: Draws) -> float:
    """The chance that the asked way comes first, in the group where it is smallest."""
    return min(finish(look.contenders(g), draws).chances[0] for g in look.pieces)


def advise(
    look: Look, margins: tuple[Margin, ...], draws: Draws
) -> tuple[tuple[Advice, ...], tuple[NoAdvice, ...]]:
    """What would cure each weak part, and what would not.

    First what cures it wholly and leaves the piece as it is, the smallest change before all.
    """
    good: list[Advice] = []
    bad: list[NoAdvice] = []
    weak = weak_parts(look)
    if not weak:
        return (), ()
    chance = intended_chance(look, draws)
    for part in look.study.parts:
        kind = look.catalogue.kinds.get(part.kind)
        if part.name not in weak or kind is None:
            continue
        ways = tuple(m for m in margins if m.part == part.name)
        found = tuple(m.mechanism for m in ways if _is_weak(m)) or tuple(m.mechanism for m in ways)
        case = _Case(look, part, kind, found, judge(look, part), chance, draws)
        for change in _changes(case):
            told = _try(case, change)
            if isinstance(told, Advice):
                good.append(told)
            else:
                bad.append(told)
    order = {p.name: k for k, p in enumerate(look.study.parts)}
    good.sort(
        key=lambda a: (
            order[a.part],
            bool(a.leaves),
            a.changes_the_piece,
            distance(a.now, a.then),
        )
    )
    return tuple(good), tuple(bad)


def _is_weak(margin: Margin) -> bool:
    if margin.chance_before > RISK:
        return True
    return margin.level in (Level.LOW, Level.DANGER)


def _changes(case: _Case) -> tuple[Change, ...]:
    """Numbers that a way to be cured depends on, or, in the piece under test, the asked way."""
    wanted = set(case.weak)
    if case.part.tested and case.look.asked_way is not None:
        wanted.add(case.look.asked_way)
    group = case.look.study.reference if case.part.tested else None
    try:
        resolved = case.look.catalogue.resolve(case.part, group)
    except BreakwrightError:
        # A part known by its own tests only has no numbers to change, and they were its own count.
        return ()
    return changes_of(case.part, case.kind, resolved, keys_of(case.kind, resolved, wanted))


def _try(case: _Case, change: Change) -> Advice | NoAdvice:
    """Cure all weak ways with this number; failing that, those that depend on it."""
    if change.by_group:
        return _no(change, case.part.name, WhyNot.DIFFERS_BY_GROUP, None)
    touched = tuple(w for w in case.weak if change.key == COUNT or _needs(case, w, change.key))
    aims = [case.weak] if touched == case.weak else [case.weak, touched]
    best: list[float] = []
    for cures in aims:
        if not cures:
            continue
        solved = _solved(case, change, cures if cures != case.weak else None, best)
        if solved is not None:
            return _advice(case, change, cures, *solved)
    same = bool(best) and all(abs(m / case.before.margin - 1.0) < 1e-9 for m in best)
    why = WhyNot.NO_EFFECT if same else WhyNot.NO_VALUE
    return _no(change, case.part.name, why, max(best, default=None))


def _solved(
    case: _Case, change: Change, ways: Collection[str] | None, best: list[float]
) -> tuple[float, bool, Look] | None:
    """The nearer of the values up and down that make these ways good, with the look at it."""

    def is_good(value: float) -> bool:
        found = look_with(case.look, case.part, change.key, value)
        if found is None:
            return False
        changed = changed_part(case.part, change.key, value, groups=case.look.study.groups)
        verdict = judge(found, changed, ways)
        if ways is None:
            best.append(verdict.margin)
        return verdict.cured

    able = [(up, v) for up in (True, False) if (v := solve(change, is_good, up=up)) is not None]
    if not able:
        return None
    up, then = min(able, key=lambda a: distance(change.now, a[1]))
    after = look_with(case.look, case.part, change.key, then)
    return None if after is None else (then, up, after)


def _advice(
    case: _Case, change: Change, cures: tuple[str, ...], then: float, up: bool, after: Look
) -> Advice:
    verdict = judge(after, case.part)
    reference = case.look.study.reference
    median = case.look.pieces[reference].median
    return Advice(
        part=case.part.name,
        key=change.key,
        meaning=change.meaning_of(then),
        unit=change.unit,
        now=change.now,
        then=then,
        direction="up" if up else "down",
        cures=cures,
        chance_before=case.chance_before,
        chance_after=intended_chance(after, case.draws),
        margin_before=case.before.margin,
        margin_after=verdict.margin,
        changes_the_piece=not math.isclose(after.pieces[reference].median, median, rel_tol=1e-9),
        leaves=tuple(w for w in case.weak if w not in cures),
        risk_before=case.before.risk,
        risk_after=verdict.risk,
    )


def _needs(case: _Case, way: str, key: str) -> bool:
    keys = ("diameter_mm", "pitch_mm") if key == THREAD else (key,)
    return any(k in m.needs for m in case.kind.mechanisms if m.name == way for k in keys)


def _no(change: Change, part: str, why: WhyNot, best: float | None) -> NoAdvice:
    return NoAdvice(
        part=part,
        key=change.key,
        meaning=change.meaning,
        unit=change.unit,
        now=change.now,
        why=why,
        low=change.low,
        high=change.high,
        best_margin=best,
    )
