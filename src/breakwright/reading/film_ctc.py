"""From the network's log probabilities to a few texts a strip, each with its exact probability.

The best path gives the first text. Others come from its least certain places: a digit read as
another, left out, put in, doubled (``1`` or ``11``). Each is then scored by the forward recursion
of connectionist temporal classification (Graves et al., ICML 2006, section 4.1), so that the
scores of two texts can be compared whatever paths lead to them.
"""

from collections.abc import Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_ctc_edits import Edit, edited, likely_edits
from breakwright.reading.film_ports import ALPHABET

__all__ = ["candidates", "text_scores"]

_CODE = {sign: number + 1 for number, sign in enumerate(ALPHABET)}
_SIGNS = np.frombuffer(b"\0" + ALPHABET.encode("ascii"), np.uint8)
# Below this share of the best text's probability nothing is looked into; so many edits a strip
# are, alone and in pairs.
_FAINT = -11.0
_EDITS = 6
_PAIRED = 4
_RESCALE_EVERY = 8

Floats = NDArray[np.floating]


def candidates(
    log_probs: Floats, *, keep: int = 4
) -> tuple[tuple[tuple[str, ...], ...], NDArray[np.float32]]:
    """Return for each strip its likeliest texts, best first, and their log probabilities.

    ``log_probs`` is (n, steps, 1 + len(ALPHABET)), class 0 being the blank. The scores are
    (n, keep), -inf where a strip has fewer texts; ``''`` stands for no digits.
    """
    count = len(log_probs)
    if count == 0:
        return (), np.empty((0, keep), np.float32)
    logs = np.asarray(log_probs, np.float64)
    best = logs.argmax(axis=2)
    greedy = _collapsed(best)
    edits = likely_edits(logs, best, faint=_FAINT, most=_EDITS)
    texts: list[list[str]] = []
    for text, few in zip(greedy, edits, strict=True):
        found = dict.fromkeys([text, *_edited_ways(text, few)])
        texts.append(list(found))
    owners = np.repeat(np.arange(count), [len(some) for some in texts])
    scores = text_scores(logs, owners, [text for some in texts for text in some])
    kept = np.full((count, keep), -np.inf, np.float32)
    named: list[tuple[str, ...]] = []
    first = 0
    for row, some in enumerate(texts):
        if len(some) == 1:
            kept[row, 0] = scores[first]
            named.append((some[0],))
        else:
            part = scores[first : first + len(some)]
            order = np.argsort(-part, kind="stable")[:keep]
            order = order[part[order] > -np.inf]
            kept[row, : len(order)] = part[order]
            named.append(tuple(some[place] for place in order))
        first += len(some)
    return tuple(named), kept


def text_scores(log_probs: Floats, owners: NDArray[np.intp], texts: Sequence[str]) -> Floats:
    """Return the log probability (m,) of each of ``texts`` given strip ``owners[i]`` (m,)."""
    probs = np.exp(np.asarray(log_probs, np.float64))
    length = max(map(len, texts), default=0)
    labels = np.zeros((len(texts), 2 * length + 1), np.intp)
    sizes = np.fromiter(map(len, texts), np.intp, len(texts))
    if length:
        filled = np.arange(length) < sizes[:, None]
        letters = labels[:, 1::2]
        letters[filled] = [_CODE[sign] for text in texts for sign in text]
    # From one letter to the next without a blank between: only where the two differ.
    leap = np.zeros(labels.shape)
    leap[:, 3::2] = labels[:, 3::2] != labels[:, 1:-2:2]
    here = np.arange(labels.shape[1]) <= 2 * sizes[:, None]
    # (steps, m, states) of the probability that each step shows each state's letter.
    shown = probs[owners[:, None], :, labels] * here[:, :, None]
    shown = np.ascontiguousarray(np.moveaxis(shown, 2, 0))
    alpha = np.zeros(labels.shape)
    alpha[:, :2] = shown[0, :, :2]
    grown = np.zeros(len(texts))
    for step in range(1, shown.shape[0]):
        fed = alpha.copy()
        fed[:, 1:] += alpha[:, :-1]
        fed[:, 2:] += alpha[:, :-2] * leap[:, 2:]
        alpha = fed * shown[step]
        if step % _RESCALE_EVERY == 0:
            top = alpha.max(axis=1)
            top[top == 0.0] = 1.0
            alpha /= top[:, None]
            grown += np.log(top)
    rows = np.arange(len(texts))
    ends = alpha[rows, 2 * sizes] + np.where(
        sizes > 0, alpha[rows, np.maximum(2 * sizes - 1, 0)], 0.0
    )
    with np.errstate(divide="ignore"):
        return np.minimum(np.log(ends) + grown, 0.0)


def _collapsed(path: NDArray[np.intp]) -> list[str]:
    """The texts of best paths (n, steps): repeats merged, then blanks left out."""
    fresh = path != 0
    fresh[:, 1:] &= path[:, 1:] != path[:, :-1]
    signs = _SIGNS[path[fresh]].tobytes().decode("ascii")
    ends = np.cumsum(fresh.sum(axis=1)).tolist()
    return [signs[start:end] for start, end in zip([0, *ends], ends, strict=False)]


def _edited_ways(text: str, edits: Sequence[Edit]) -> list[str]:
    ways = [edited(text, (edit,)) for edit in edits]
    for pair in combinations(edits[:_PAIRED], 2):
        if pair[0].place != pair[1].place and pair[0].gain + pair[1].gain > _FAINT:
            ways.append(edited(text, pair))
    return ways
