"""A random order of groups in which none comes more often in a row than allowed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

__all__ = ["ImpossibleRun", "Run", "longest_run", "shuffled"]

# After so many uniform draws without one that is permitted, the order is built piece by piece.
_TRIES = 1000


class ImpossibleRun(ValueError):
    """No order keeps the runs as short as asked for."""

    def __init__(self, group: str, pieces: int, others: int, longest: int) -> None:
        self.group, self.pieces, self.others, self.longest = group, pieces, others, longest
        super().__init__(
            f"{pieces} pieces of {group!r} among {others} others cannot be ordered with at most "
            f"{longest} in a row: at most {longest * (others + 1)} can; allow "
            f"{-(-pieces // (others + 1))} in a row"
        )


@dataclass(frozen=True, slots=True)
class Run:
    """The end of what was ordered before: the last group and how often in a row it came."""

    group: str | None = None
    length: int = 0


def longest_run(order: Sequence[str]) -> int:
    """How often the same group comes in a row at most.

    >>> longest_run(["a", "b", "b", "a"])
    2
    """
    longest = length = 0
    last: str | None = None
    for group in order:
        length = length + 1 if group == last else 1
        longest, last = max(longest, length), group
    return longest


def shuffled(
    counts: Mapping[str, int],
    *,
    longest: int | None,
    before: Run,
    rng: np.random.Generator,
) -> tuple[str, ...]:
    """A random order of ``counts`` pieces a group, none more than ``longest`` times in a row.

    ``before`` is what precedes it. Uniform over all permitted orders while a thousand plain draws
    hold one of them; else built piece by piece, by which every permitted order can still come.
    Raises ImpossibleRun where there is none.
    """
    pieces = [group for group, count in counts.items() for _ in range(count)]
    if longest is None:
        return tuple(pieces[k] for k in rng.permutation(len(pieces)))
    _refuse_impossible(counts, longest=longest, before=before)
    lead = [] if before.group is None else [before.group] * before.length
    for _ in range(_TRIES):
        order = [pieces[k] for k in rng.permutation(len(pieces))]
        if longest_run(lead + order) <= longest:
            return tuple(order)
    return _built(counts, longest=longest, before=before, rng=rng)


def _fits(counts: Mapping[str, int], *, longest: int, before: Run) -> str | None:
    """The group that has too many pieces left, None if what is left can be ordered.

    The others leave room for others + 1 runs of the group, the first of them shortened if the
    group came last. That this is enough is shown at ``_built``.
    """
    total = sum(counts.values())
    for group, count in counts.items():
        room = longest * (total - count + 1)
        if group == before.group:
            room -= before.length
        if count > room:
            return group
    return None


def _refuse_impossible(counts: Mapping[str, int], *, longest: int, before: Run) -> None:
    group = _fits(counts, longest=longest, before=before)
    if group is not None:
        others = sum(counts.values()) - counts[group]
        raise ImpossibleRun(group, counts[group], others, longest)


def _built(
    counts: Mapping[str, int], *, longest: int, before: Run, rng: np.random.Generator
) -> tuple[str, ...]:
    """Piece by piece, each drawn in proportion to what is left, if the rest can still be ordered.

    This always ends. Let c be a group's pieces left, T all pieces left, k the longest run, and let
    ``_fits`` hold: c <= k (T - c + 1) for each group, less the run so far for the last group.
    Placing a group keeps its own inequality; another group's breaks only if that one is heavy,
    c > k (T - c), and two groups cannot be heavy at once (their sum would exceed k T >= T). So if
    none is heavy, any group that may come can be placed, and one may come (were only the last
    group left and its run full, its inequality would say c <= 0). If one is heavy, it can be
    placed itself: were it the last group with a full run, its inequality would say c <= k (T - c),
    and it would not be heavy. As ``_fits`` is also necessary, each start of a permitted order
    passes it, so every permitted order can come.
    """
    left = dict(counts)
    run, order = before, []
    for _ in range(sum(counts.values())):
        options, weights, runs = [], [], []
        for group, count in left.items():
            if count == 0:
                continue
            then = Run(group, run.length + 1 if group == run.group else 1)
            if then.length > longest:
                continue
            rest = {**left, group: count - 1}
            if _fits(rest, longest=longest, before=then) is None:
                options.append(group)
                weights.append(float(count))
                runs.append(then)
        share = np.cumsum(weights) / sum(weights)
        pick = int(np.searchsorted(share, rng.random(), side="right"))
        order.append(options[pick])
        left[options[pick]] -= 1
        run = runs[pick]
    return tuple(order)
