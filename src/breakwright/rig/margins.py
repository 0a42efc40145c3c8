"""How much stronger each part is than the strongest piece expected."""

from collections.abc import Iterable, Sequence

from breakwright.rig.contenders import Contender, contender_of, goes_before
from breakwright.rig.findings import Level, Margin
from breakwright.rig.look import Look
from breakwright.strength.prediction import Prediction

__all__ = ["DANGER", "ENOUGH", "level_of", "margins_of"]

ENOUGH = 2.5
DANGER = 1.5


def level_of(margin: float) -> Level:
    """2.5 is enough, under 1.5 is danger (common practice, no source).

    >>> [level_of(m).value for m in (2.5, 2.49, 1.5, 1.49)]
    ['enough', 'low', 'low', 'danger']
    """
    if margin >= ENOUGH:
        return Level.ENOUGH
    return Level.LOW if margin >= DANGER else Level.DANGER


def margins_of(look: Look) -> tuple[Margin, ...]:
    """One margin for each way of each part, in the order of the parts, the weakest way first.

    Another way for the piece under test to break is judged by its chance, not by the margin:
    it spoils a reading but leaves the rig whole.
    """
    if not look.pieces:
        return ()
    found: list[Margin] = []
    for part in look.study.parts:
        if look.tested is not None and part.name == look.tested.name:
            found += _own_margins(look)
        else:
            found += _rig_margins(look, look.rig_ways[part.name])
    return tuple(found)


def _rig_margins(look: Look, ways: Sequence[Prediction]) -> Iterable[Margin]:
    asked = {g: look.intended_in(g) for g in look.pieces}
    ordered = sorted(ways, key=lambda w: w.median)
    for k, way in enumerate(ordered):
        rival = contender_of(way, intended=False)
        yield _margin(look, way, {g: goes_before(rival, a) for g, a in asked.items()}, k == 0)


def _own_margins(look: Look) -> Iterable[Margin]:
    """The weakest group's number for each other way, since groups may differ in size."""
    weakest: dict[str, Prediction] = {}
    chances: dict[str, dict[str, float]] = {}
    for group in look.pieces:
        asked: Contender = look.intended_in(group)
        for way in look.piece_ways[group]:
            if way.mechanism == look.asked_way:
                continue
            rival = contender_of(way, intended=False)
            chances.setdefault(way.mechanism, {})[group] = goes_before(rival, asked)
            known = weakest.get(way.mechanism)
            if known is None or way.median < known.median:
                weakest[way.mechanism] = way
    ordered = sorted(weakest.values(), key=lambda w: w.median)
    for k, way in enumerate(ordered):
        yield _margin(look, way, chances[way.mechanism], k == 0)


def _margin(look: Look, way: Prediction, chances: dict[str, float], governs: bool) -> Margin:
    strongest = look.strongest()
    margin = way.median / strongest.p99
    own = look.tested is not None and way.part == look.tested.name
    worst = max(chances, key=lambda g: chances[g])
    return Margin(
        part=way.part,
        mechanism=way.mechanism,
        tested=own,
        governs=governs,
        median=way.median,
        p5=way.p5,
        strongest_group=strongest.group,
        strongest_piece=strongest.p99,
        margin=margin,
        margin_characteristic=way.p5 / strongest.p99,
        chance_before=chances[worst],
        chance_group=worst,
        level=Level.OWN if own else level_of(margin),
        trust=way.trust,
        calibrated_on=way.calibrated_on,
    )
