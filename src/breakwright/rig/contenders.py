"""Ways of breaking as contenders: each a lognormal strength made of named sources of scatter.

Two ways of one part that depend on the same number (a board's density, a plate's thickness)
share that number's scatter: a dense board is strong in both. The equations' own errors are each
their own, and so is everything in different parts, which are cut from different wood. What the
model leaves out: two properties of one board that go together (density and bending strength)
scatter independently.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from breakwright.rig.findings import PieceStrength
from breakwright.rig.lognormal import chance_first
from breakwright.strength.prediction import Prediction

__all__ = [
    "Contender",
    "Source",
    "contender_of",
    "covariance",
    "goes_before",
    "the_piece",
    "total_before",
]

# A source of scatter: the part, the key (or the mechanism whose equation errs), and which it is.
Source = tuple[str, str, str]
_INPUT = "input"
_EQUATION = "equation"


@dataclass(frozen=True, slots=True)
class Contender:
    """One way of one part. ``loadings`` are of independent standard normal sources; the log of
    the whole load at which it breaks is ``log(median) + sum(loading x source)``."""

    part: str
    mechanism: str
    intended: bool
    median: float
    loadings: tuple[tuple[Source, float], ...]

    @property
    def sigma(self) -> float:
        return math.sqrt(sum(v * v for _, v in self.loadings))


def contender_of(
    prediction: Prediction, *, intended: bool, piece: PieceStrength | None = None
) -> Contender:
    """A prediction as a contender. ``piece``, if given, replaces its median and scatter.

    The sign of a loading is that of the input's exponent: what makes one way stronger may make
    another weaker.
    """
    median, sigma = prediction.median, prediction.sigma
    scatter = sigma * math.sqrt(max(0.0, 1.0 - prediction.model_share))
    if piece is not None:
        median, sigma, scatter = piece.median, piece.sigma, piece.scatter
    told = sum(i.share for i in prediction.inputs)
    loadings: list[tuple[Source, float]] = []
    if told > 0.0:
        for one in prediction.inputs:
            if one.share > 0.0:
                size = scatter * math.sqrt(one.share / told)
                source = (prediction.part, one.name, _INPUT)
                loadings.append((source, math.copysign(size, one.exponent)))
        rest = math.sqrt(max(0.0, sigma**2 - scatter**2))
    else:
        rest = sigma
    if rest > 0.0:
        loadings.append(((prediction.part, prediction.mechanism, _EQUATION), rest))
    return Contender(prediction.part, prediction.mechanism, intended, median, tuple(loadings))


def the_piece(part: str, mechanism: str, piece: PieceStrength) -> Contender:
    """A piece of which only the strength is known, without a prediction behind it."""
    source = (part, mechanism, _EQUATION)
    return Contender(part, mechanism, True, piece.median, ((source, piece.sigma),))


def covariance(one: Contender, other: Contender) -> float:
    """Covariance of the two logs, from the sources that both depend on."""
    theirs: Mapping[Source, float] = dict(other.loadings)
    return sum(v * theirs[s] for s, v in one.loadings if s in theirs)


def goes_before(one: Contender, other: Contender) -> float:
    """The chance that ``one`` gives way at a smaller load than ``other``, the two alone."""
    away = math.log(other.median / one.median)
    return float(chance_first(away, other.sigma, one.sigma, covariance(one, other)))


def total_before(rivals: Sequence[Contender], intended: Contender) -> float:
    """The sum of the rivals' chances two by two: never less than the chance that any is first."""
    return sum(goes_before(rival, intended) for rival in rivals)
