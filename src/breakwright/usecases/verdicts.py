"""From an interval to what may be said: the verdict as data."""

import math

from breakwright.stats.holm import Step
from breakwright.usecases.result import RatioMethod, RatioResult, Verdict, VerdictKind

__all__ = ["MOST_PIECES", "kind_of", "two_sided", "verdict_of"]

# Beyond this many more pieces a group nobody breaks them; the verdict then says 'more than'.
MOST_PIECES = 200
# The interval's half-width shrinks as 1/sqrt(n). For four repeats in five to settle the matter,
# the estimate must lie (1.96 + 0.84)/1.96 half-widths from what it must be told from.
_FOUR_IN_FIVE = (1.959964 + 0.841621) / 1.959964


def two_sided(ratio: RatioResult) -> float:
    """The two-sided p-value of 'as strong as the reference', 1 where nothing was tested."""
    if ratio.sure_stronger is None or ratio.sure_weaker is None:
        return 1.0
    return min(1.0, 2.0 * min(1.0 - ratio.sure_stronger, 1.0 - ratio.sure_weaker))


def kind_of(ratio: RatioResult, *, worth: float | None) -> VerdictKind:
    """What the interval of ``ratio`` allows to be said; ``worth`` above 1 or None."""
    if ratio.method is RatioMethod.NONE:
        return VerdictKind.NO_ANSWER
    if ratio.method is RatioMethod.SIGN:
        only_lower = ratio.lower is not None
        return VerdictKind.ONLY_LOWER_LIMIT if only_lower else VerdictKind.ONLY_UPPER_LIMIT
    lower = 0.0 if ratio.lower is None else ratio.lower
    upper = math.inf if ratio.upper is None else ratio.upper
    if worth is not None:
        if lower > worth:
            return VerdictKind.STRONGER_MATTERS
        if upper < 1.0 / worth:
            return VerdictKind.WEAKER_MATTERS
        if lower > 1.0 / worth and upper < worth:
            return VerdictKind.NO_DIFFERENCE
    # An end at exactly 1 was put there because the p-value at 1 refuses 1.
    half = 0.5 * (1.0 - ratio.level)
    if ratio.sure_stronger is not None and 1.0 - ratio.sure_stronger <= half and lower >= 1.0:
        return VerdictKind.STRONGER
    if ratio.sure_weaker is not None and 1.0 - ratio.sure_weaker <= half and upper <= 1.0:
        return VerdictKind.WEAKER
    return VerdictKind.NOT_SETTLED


def verdict_of(
    ratio: RatioResult, *, worth: float | None, step: Step, pieces: tuple[int, int]
) -> Verdict:
    """The verdict on the interval ``ratio``, which is at the level that Holm's ``step`` allows.

    ``pieces`` are the sizes of the two groups.
    """
    kind = kind_of(ratio, worth=worth)
    open_ended = kind is VerdictKind.NOT_SETTLED
    more, beyond = _more_pieces(ratio, worth=worth, pieces=pieces) if open_ended else (None, False)
    tested = ratio.sure_stronger is not None
    return Verdict(
        kind=kind,
        ratio=ratio.ratio,
        lower=ratio.lower,
        upper=ratio.upper,
        level=ratio.level,
        p_value=two_sided(ratio) if tested else None,
        p_holm=step.adjusted if tested else None,
        still_possible=_farthest(ratio) if open_ended else None,
        more_pieces=more,
        more_pieces_capped=beyond,
    )


def _farthest(ratio: RatioResult) -> float | None:
    """The end of the interval farther from 1 on the log scale; None if that end is open."""
    if ratio.lower is None or ratio.upper is None:
        return None
    return max(ratio.lower, ratio.upper, key=lambda x: abs(math.log(x)))


def _more_pieces(
    ratio: RatioResult, *, worth: float | None, pieces: tuple[int, int]
) -> tuple[int | None, bool]:
    """About how many more pieces in each group would settle it, were the estimate the truth."""
    if ratio.ratio is None or ratio.lower is None or ratio.upper is None:
        return None, False
    d = math.log(ratio.ratio)
    half = 0.5 * (math.log(ratio.upper) - math.log(ratio.lower))
    distance = abs(d)
    if worth is not None and abs(d) < math.log(worth):
        # Settled either way: told from 1, or shown to be less than matters.
        distance = max(distance, math.log(worth) - abs(d))
    if distance <= 0.0:
        return MOST_PIECES, True
    now = 2.0 / (1.0 / pieces[0] + 1.0 / pieces[1])
    needed = now * (half * _FOUR_IN_FIVE / distance) ** 2
    more = max(1, math.ceil(needed - now))
    return (MOST_PIECES, True) if more > MOST_PIECES else (more, False)
