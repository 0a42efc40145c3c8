"""How many more pieces would settle it: an honest range, from the answer so far.

Readings in hand are kept and further ones drawn (``plan.further``): once with the estimates taken
for the truth, once with each end of the middle half of the truths that the readings allow, and
once over all of those truths, which gives the chance that a number of further pieces settles it
whatever may be true.
"""

import math
import statistics
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from breakwright.model.study import Study
from breakwright.plan.further import Hand, Judge, Truths, chances_after, first_enough
from breakwright.plan.truth import share_beyond
from breakwright.stats.families import FAMILIES, Floats
from breakwright.stats.fit import Fit, fit
from breakwright.stats.pivot import FEWEST_TRUTHS, plausible
from breakwright.usecases.result import Answer, Comparison, VerdictKind
from breakwright.usecases.samples import GroupData, groups_of
from breakwright.usecases.settle_result import CHANCE, MOST, ChanceAfter, Needed, Settle

__all__ = ["SIZES", "settle_study"]

Progress = Callable[[str, float], None]

SIZES = (1, 2, 3, 4, 5, 6, 8, 10, 13, 16, 20, 25, 32, MOST)
_SHOWN = (2, 5, 10, 20, 40)
_EXPERIMENTS = 400
_MIDDLE_HALF = (0.25, 0.75)
# A scale whose end this share of pieces or fewer would reach costs no piece worth speaking of.
_RARE = 0.02

_OPEN = frozenset({VerdictKind.NOT_SETTLED})
_LIMITED = frozenset(
    {VerdictKind.ONLY_LOWER_LIMIT, VerdictKind.ONLY_UPPER_LIMIT, VerdictKind.NO_ANSWER}
)


def settle_study(
    study: Study, answer: Answer, *, seed: int, progress: Progress | None = None
) -> tuple[Settle, ...]:
    """Say for every comparison of ``answer``, which is of ``study``, what would settle it.

    The same answer and seed give the same numbers.
    """
    data = groups_of(study.groups, answer.pieces)
    found = []
    for k, comparison in enumerate(answer.comparisons):
        if progress is not None:
            progress(f"what would settle «{comparison.group}»", k / len(answer.comparisons))
        found.append(_settle(answer, comparison, data, seed=seed))
    return tuple(found)


@dataclass(frozen=True)
class _Side:
    data: GroupData
    fit: Fit

    @property
    def hand(self) -> Hand:
        sample = self.data.sample
        held = np.isinf(sample.upper)
        middle = np.where(held, sample.lower, 0.5 * (sample.lower + sample.upper))
        return Hand(np.log(np.maximum(middle, 1e-9)), held)

    @property
    def exact(self) -> int:
        return int(self.data.sample.exact.sum())


def _settle(
    answer: Answer, comparison: Comparison, data: Mapping[str, GroupData], *, seed: int
) -> Settle:
    sides = tuple(
        _Side(data[name], fit(data[name].sample.lower, data[name].sample.upper, FAMILIES[0]))
        for name in (comparison.reference, comparison.group)
    )
    kind = comparison.verdict.kind
    if kind in _LIMITED or any(side.fit.missing is not None for side in sides):
        return _without(comparison, sides, "no-estimate")
    if min(side.exact for side in sides) < 2:
        return _without(comparison, sides, "few-readings")
    if kind not in _OPEN:
        return _without(comparison, sides, None)
    allowed = _allowed(sides, seed=seed)
    if allowed is None:
        return _without(comparison, sides, "unsure")
    mu, sigma = allowed
    centre = sides[0].fit.mu
    hands = (_moved(sides[0].hand, centre), _moved(sides[1].hand, centre))
    judge = Judge(comparison.verdict.level, answer.worth)
    supposed = _Supposed(_cap(data, comparison, centre), _wrong(answer, comparison))

    def curve(truths: Truths) -> Floats:
        return chances_after(hands, truths, sizes=SIZES, judge=judge, seed=seed)

    def needed(distance: float, *, limited: float) -> Needed:
        truths = _one_truth(sides, distance, cap=limited, wrong=supposed.wrong)
        pieces = first_enough(curve(truths), sizes=SIZES, chance=CHANCE)
        return Needed(math.exp(distance), pieces)

    distance = sides[1].fit.mu - centre
    estimate = needed(distance, limited=supposed.cap)
    ends = [
        needed(float(end), limited=supposed.cap) for end in np.quantile(mu[1] - mu[0], _MIDDLE_HALF)
    ]
    every = sorted([estimate, *ends], key=lambda n: math.inf if n.pieces is None else n.pieces)
    capped = _capped(sides, supposed.cap, centre)
    over = curve(Truths(mu - centre, sigma, supposed.cap, supposed.wrong))
    return Settle(
        group=comparison.group,
        reference=comparison.reference,
        now=_now(sides),
        settled=False,
        missing=None,
        estimate=estimate,
        few=every[0],
        many=every[-1],
        without_limit=needed(distance, limited=math.inf) if capped > _RARE else None,
        capped=capped,
        wrong_way=max(supposed.wrong),
        chances=tuple(ChanceAfter(more, float(np.interp(more, SIZES, over))) for more in _SHOWN),
    )


@dataclass(frozen=True, slots=True)
class _Supposed:
    cap: float
    wrong: tuple[float, float]


def _without(comparison: Comparison, sides: Sequence[_Side], missing: str | None) -> Settle:
    return Settle(
        group=comparison.group,
        reference=comparison.reference,
        now=_now(sides),
        settled=missing is None,
        missing=missing,
        estimate=None,
        few=None,
        many=None,
        without_limit=None,
        capped=0.0,
        wrong_way=0.0,
        chances=(),
    )


def _now(sides: Sequence[_Side]) -> tuple[int, int]:
    return sides[0].data.sample.size, sides[1].data.sample.size


def _moved(hand: Hand, centre: float) -> Hand:
    return Hand(hand.y - centre, hand.held)


def _allowed(sides: Sequence[_Side], *, seed: int) -> tuple[Floats, Floats] | None:
    """Truths that the readings allow, each (2, B); None where too few could be drawn."""
    draws = [
        plausible(side.data.sample, side.fit, resamples=_EXPERIMENTS, seed=seed + 11 * k)
        for k, side in enumerate(sides)
    ]
    size = min(found.mu.size for found in draws)
    if size < FEWEST_TRUTHS:
        return None
    return np.stack([d.mu[:size] for d in draws]), np.stack([d.sigma[:size] for d in draws])


def _one_truth(
    sides: Sequence[_Side], distance: float, *, cap: float, wrong: tuple[float, float]
) -> Truths:
    shape = (_EXPERIMENTS,)
    mu = np.stack([np.zeros(shape), np.full(shape, distance)])
    sigma = np.stack([np.full(shape, side.fit.sigma) for side in sides])
    return Truths(mu, sigma, cap, wrong)


def _cap(data: Mapping[str, GroupData], comparison: Comparison, centre: float) -> float:
    """Log of the load at which the scale ends, as told by the pieces read so far (inf: none)."""
    limits = [
        piece.limit
        for name in (comparison.reference, comparison.group)
        for piece in data[name].pieces
        if piece.limit is not None
    ]
    return math.log(statistics.median(limits)) - centre if limits else math.inf


def _wrong(answer: Answer, comparison: Comparison) -> tuple[float, float]:
    """The shares that broke another way so far, the reference's first."""
    groups = {group.name: group for group in answer.groups}
    pair = [groups[name] for name in (comparison.reference, comparison.group)]
    shares = [min(g.wrong_way / g.used, 0.9) if g.used else 0.0 for g in pair]
    return shares[0], shares[1]


def _capped(sides: Sequence[_Side], cap: float, centre: float) -> float:
    return max(
        share_beyond(cap, median=side.fit.mu - centre, sigma=side.fit.sigma) for side in sides
    )
